namespace Undersand.Runs.Processing;

/// <summary>What a tile was made from under one line, as fingerprints.</summary>
/// <param name="Recording">Of recording, settings, engine and code, and of where the tile lies.</param>
/// <param name="Seabed">Of the seabed that it was imaged under.</param>
internal readonly record struct LinePrints(string Recording, string Seabed);

/// <summary>What a tile was made from: fingerprints for each line that may see it.</summary>
/// <param name="Prints">By the line's name.</param>
internal sealed record TileMark(IReadOnlyDictionary<string, LinePrints> Prints)
{
    /// <summary>From one line of text; of none where there is none, or another.</summary>
    public static TileMark Parse(string? text)
    {
        var prints = new Dictionary<string, LinePrints>();
        foreach (string[] part in (text ?? "").Split(' ', StringSplitOptions.RemoveEmptyEntries).Select(p => p.Split(':')))
            if (part.Length == 3)
                prints[Uri.UnescapeDataString(part[0])] = new(part[1], part[2]);
        return new(prints);
    }

    /// <summary>The text that <see cref="Parse"/> reads.</summary>
    public override string ToString() => string.Join(' ', Prints.OrderBy(p => p.Key, StringComparer.Ordinal).Select(p => $"{Uri.EscapeDataString(p.Key)}:{p.Value.Recording}:{p.Value.Seabed}"));
}
