namespace Undersand.Storage.Surveys;

/// <summary>Finds the recordings in a folder; entries that can't be recordings are named.</summary>
internal static class Recordings
{
    /// <summary>File names of the recordings, in order.</summary>
    /// <exception cref="SurveyException">There are none.</exception>
    public static IReadOnlyList<string> Find(string folder, List<Caution> cautions)
    {
        var names = new List<string>();
        var left = new List<string>();
        foreach (string path in Directory.EnumerateFileSystemEntries(folder).Order(StringComparer.Ordinal))
        {
            string name = Path.GetFileName(path);
            if (!name.EndsWith(".sgy", StringComparison.OrdinalIgnoreCase))
            {
                if (Path.GetExtension(name).ToUpperInvariant() is ".SEGY" or ".SEG" or ".SG2")
                    cautions.Add(new Caution(name, "The file doesn't end in .sgy and was not read."));
                continue;
            }
            if (WhyNot(path) is { } why)
                left.Add($"{name} ({why})");
            else
                names.Add(name);
        }
        if (names.Count == 0)
            throw new SurveyException(folder, null, left.Count == 0 ? "the folder has no recordings" : $"the folder has no recordings that can be read; left out: {string.Join(", ", left)}", "put SEG-Y files that end in .sgy into it");
        foreach (string entry in left)
            cautions.Add(new Caution(entry[..entry.LastIndexOf(" (", StringComparison.Ordinal)], $"Not processed: {entry[(entry.LastIndexOf(" (", StringComparison.Ordinal) + 2)..^1]}.", 1));
        return names;
    }

    private static string? WhyNot(string path)
    {
        if (Directory.Exists(path))
            return "a folder";
        if (!File.Exists(path))
            return "a broken link";
        try
        {
            FileSystemInfo file = File.ResolveLinkTarget(path, returnFinalTarget: true) ?? new FileInfo(path);
            return ((FileInfo)file).Length == 0 ? "empty" : null;
        }
        catch (IOException)
        {
            return "a broken link";
        }
    }
}
