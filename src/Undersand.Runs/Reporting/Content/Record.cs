using System.Reflection;

namespace Undersand.Runs.Reporting;

/// <summary>What was assumed, met and done, so that someone else can do it again.</summary>
internal static class Record
{
    public static IEnumerable<Block> Blocks(SurveyResult result)
    {
        yield return new Heading(1, "Assumptions", "assumptions");
        yield return new Paragraph("Values that were not given with the survey and had to be taken from somewhere.");
        if (result.Survey.Assumptions.Count == 0)
            yield return new Paragraph("None.");
        else
            yield return new Table("Assumptions", [new("Quantity"), new("Value"), new("Taken from")], [.. result.Survey.Assumptions.Select(a => (IReadOnlyList<string>)[a.Quantity, a.Value, a.Source])]);
        yield return SoundSpeed(result);
        yield return new Heading(1, "Flaws met in the data", "flaws");
        Caution[] flaws = [.. result.Survey.Cautions, .. result.Cautions];
        if (flaws.Length == 0)
            yield return new Paragraph("None.");
        else
            yield return new Table("Flaws that one can live with, and what was done about them", [new("Where"), new("What"), new("Times", "", true)], [.. flaws.Select(c => (IReadOnlyList<string>)[c.Where, c.Text, $"{c.Count}"])]);
        yield return new Heading(1, "Processing", "processing");
        if (result.Steps.Count == 0)
            yield return new Paragraph("No step was recorded.");
        else
            yield return new Table("Steps, in their order, with their settings", [new("Step"), new("Settings")], [.. result.Steps.Select((s, i) => (IReadOnlyList<string>)[$"{i + 1}. {s.Name}", s.Settings.Count == 0 ? "–" : string.Join("; ", s.Settings.Select(p => $"{p.Key}: {p.Value}"))])]);
        foreach (Block block in Method.Blocks(result))
            yield return block;
        yield return new Heading(1, "Colophon", "colophon");
        yield return new Paragraph($"Made by Undersand {Version()} (Apache-2.0). Dated by the newest ping, not by a clock: the same recordings and settings give the same report. Every input with its SHA-256, all settings and versions are in run.json beside this report; whether the files beside it are still as they were written, sha256sum -c SHA256SUMS says; targets in targets.geojson, targets.csv and survey.gpkg; maps in maps/; the imaged voxels in volume.zarr.");
        yield return new Paragraph($"Colour maps: {string.Join("; ", ColourMap.All.Select(m => $"{m.Name} ({m.Source})"))}. Type: IBM Plex Sans (SIL Open Font License 1.1); on paper, characters that it lacks are printed as ¿.");
    }

    private static Paragraph SoundSpeed(SurveyResult result)
    {
        double deepest = result.Survey.Image.MaxBurial;
        return new($"Burial scales with the speed of sound in the sediment, {Numbers.Fixed(result.Survey.Sediment.SoundSpeed, 0)} m/s here ({result.Survey.Sediment.Name}). Were it 3 % off, a thing said to lie at 1 m would lie 0.03 m deeper or shallower, and one at {Numbers.Given(deepest)} m {Numbers.Fixed(0.03 * deepest, 2)} m (sound coming straight down).", "The error of burial.");
    }

    private static string Version()
    {
        string version = Assembly.GetExecutingAssembly().GetCustomAttribute<AssemblyInformationalVersionAttribute>()?.InformationalVersion ?? "of unknown version";
        return version.Split('+')[0];
    }
}
