namespace Undersand.Runs;

/// <summary>Where folders lie to each other, whatever links lead to them; making and unmaking them.</summary>
internal static class FolderPlaces
{
    private static readonly StringComparison Same = OperatingSystem.IsLinux() ? StringComparison.Ordinal : StringComparison.OrdinalIgnoreCase;

    /// <summary>Refuses results that would be written into the survey's folder.</summary>
    /// <exception cref="SurveyException">They would.</exception>
    public static void RefuseInside(string results, string survey)
    {
        string inner = Real(results), outer = Real(survey);
        if (string.Equals(inner, outer, Same))
            throw new SurveyException(results, null, "it is the survey's own folder, which is never written to", "choose another folder with --out");
        if (Contains(outer, inner))
            throw new SurveyException(results, null, $"it lies inside the survey's folder {survey}, which is never written to", "choose a folder outside it with --out");
        if (Contains(Path.Combine(inner, "maps"), outer) || Contains(Path.Combine(inner, "volume.zarr"), outer))
            throw new SurveyException(results, null, $"the survey's folder {survey} lies where the results would be written", "choose another folder with --out");
    }

    /// <summary>Makes a folder and those above it that are missing; gives those made, the deepest first.</summary>
    public static List<string> Make(string path)
    {
        List<string> missing = [];
        for (string? folder = path; folder is not null && !Directory.Exists(folder); folder = Path.GetDirectoryName(folder))
            missing.Add(folder);
        Directory.CreateDirectory(path);
        return missing;
    }

    /// <summary>Removes those folders that exist and are empty, in the order given.</summary>
    public static void RemoveEmpty(IEnumerable<string> folders)
    {
        foreach (string folder in folders)
            if (Directory.Exists(folder) && !Directory.EnumerateFileSystemEntries(folder).Any())
                Directory.Delete(folder);
    }

    /// <summary>The full path with every link in it followed, as far as it exists.</summary>
    public static string Real(string path)
    {
        string full = Path.TrimEndingDirectorySeparator(Path.GetFullPath(path));
        string real = Path.GetPathRoot(full)!;
        int links = 0;
        var parts = new Stack<string>(full[real.Length..].Split(Path.DirectorySeparatorChar, StringSplitOptions.RemoveEmptyEntries).Reverse());
        while (parts.TryPop(out string? part))
        {
            string next = Path.Combine(real, part);
            if (++links < 200 && new FileInfo(next).LinkTarget is { } target)
            {
                string follow = Path.GetFullPath(target, real);
                real = Path.GetPathRoot(follow)!;
                foreach (string piece in follow[real.Length..].Split(Path.DirectorySeparatorChar, StringSplitOptions.RemoveEmptyEntries).Reverse())
                    parts.Push(piece);
            }
            else
            {
                real = next;
            }
        }
        return real;
    }

    private static bool Contains(string outer, string inner) =>
        string.Equals(outer, inner, Same) || inner.StartsWith(outer + Path.DirectorySeparatorChar, Same);
}
