namespace Undersand.Runs.Processing;

/// <summary>Cautions on the screen: what was met alike on several lines is said once, and a long list is cut.</summary>
internal static class CautionLines
{
    private const int MostCautions = 10, MostPlaces = 4;

    /// <summary>“Caution: line-01.sgy … line-04.sgy: Traces without signal were left out. (12)”.</summary>
    /// <param name="cautions">All of them; the order in which they were first met is kept.</param>
    /// <param name="lines">Names of the survey's lines.</param>
    /// <param name="report">The file that has them all.</param>
    public static IEnumerable<string> Of(IReadOnlyList<Caution> cautions, IEnumerable<string> lines, string report)
    {
        // A line that was left out is in its caution only.
        string[] ordered = [.. lines.Concat(cautions.Select(c => c.Where).Where(IsRecording)).Distinct().Order(StringComparer.Ordinal)];
        IGrouping<string, Caution>[] alike = [.. cautions.GroupBy(c => c.Text)];
        foreach (var group in alike.Take(MostCautions))
        {
            int count = group.Sum(c => c.Count);
            yield return $"Caution: {Places([.. group.Select(c => c.Where).Distinct()], ordered)}: {group.Key}{(count > 1 ? $" ({count})" : "")}";
        }
        if (alike.Length - MostCautions is > 0 and int more)
            yield return $"{more} more {(more == 1 ? "caution is" : "cautions are")} in {report}, under “Flaws met in the data”.";
    }

    /// <summary>Names of places; three and more lines in a row are named by their first and last.</summary>
    private static string Places(IReadOnlyList<string> places, string[] lines)
    {
        List<string> said = [];
        int named = 0;
        for (int i = 0; i < places.Count && said.Count < MostPlaces; i = named)
        {
            int first = Array.IndexOf(lines, places[i]);
            named = i + 1;
            while (first >= 0 && named < places.Count && Array.IndexOf(lines, places[named]) == first + named - i)
                named++;
            if (named - i < 3)
                named = i + 1;
            said.Add(named - i == 1 ? places[i] : $"{places[i]} … {places[named - 1]}");
        }
        return string.Join(", ", said) + (named < places.Count ? $" and {places.Count - named} more" : "");
    }

    private static bool IsRecording(string name) => name.EndsWith(".sgy", StringComparison.OrdinalIgnoreCase);
}
