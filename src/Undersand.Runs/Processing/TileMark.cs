namespace Undersand.Runs.Processing;

/// <summary>What a tile was made from: a fingerprint for each line that may see it, of recording, settings, engine and code, and where the tile and the seabed under it lie.</summary>
/// <param name="Prints">By the line's name.</param>
internal sealed record TileMark(IReadOnlyDictionary<string, string> Prints)
{
    /// <summary>From one line of text; of none where there is none, or another.</summary>
    public static TileMark Parse(string? text)
    {
        var prints = new Dictionary<string, string>();
        foreach (string[] part in (text ?? "").Split(' ', StringSplitOptions.RemoveEmptyEntries).Select(p => p.Split(':')))
            if (part.Length == 2)
                prints[Uri.UnescapeDataString(part[0])] = part[1];
        return new(prints);
    }

    /// <summary>The text that <see cref="Parse"/> reads.</summary>
    public override string ToString() => string.Join(' ', Prints.OrderBy(p => p.Key, StringComparer.Ordinal).Select(p => $"{Uri.EscapeDataString(p.Key)}:{p.Value}"));
}
