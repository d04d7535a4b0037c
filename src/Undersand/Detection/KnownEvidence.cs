using System.Security.Cryptography;
using System.Text;

namespace Undersand.Detection;

/// <summary>Evidence that an earlier detector may have found for tiles that are the same in its volume.</summary>
/// <param name="Memory">Where it is kept.</param>
/// <param name="PrintOf">A tile's fingerprint under one line: of its image, and of what is known of the line there; null where the line may not see it.</param>
public sealed record KnownEvidence(EvidenceMemory Memory, Func<TileIndex, int, string?> PrintOf)
{
    /// <summary>One fingerprint of a tile and those around it, under each line that may see it, in their order. Beyond the grid is another thing than a tile that no line sees.</summary>
    internal string PrintAround(TileIndex tile, IEnumerable<int> lines, VoxelGrid grid, int reach)
    {
        var all = new StringBuilder();
        foreach (int line in lines.Where(l => PrintOf(tile, l) is not null))
            for (int y = tile.Y - reach; y <= tile.Y + reach; y++)
                for (int x = tile.X - reach; x <= tile.X + reach; x++)
                    all.Append(x < 0 || y < 0 || x >= grid.TilesX || y >= grid.TilesY ? "beyond" : PrintOf(new TileIndex(x, y), line) ?? "unseen").Append('\n');
        return Convert.ToHexStringLower(SHA256.HashData(Encoding.UTF8.GetBytes(all.ToString())));
    }
}
