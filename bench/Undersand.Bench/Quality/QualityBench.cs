using Undersand.Bench.Speed;
using Undersand.Simulation;

namespace Undersand.Bench.Quality;

/// <summary>Scenes of known truth through the whole chain: what was found, what was false, how far off, and whether the probabilities are honest.</summary>
internal static class QualityBench
{
    private static readonly (string Name, Func<IReadOnlyList<QualityScene>> Scenes)[] s_suites =
    [
        ("quiet", QualityScenes.Quiet), ("arrays", QualityScenes.Arrays), ("bands", QualityScenes.Bands), ("heights", QualityScenes.Heights),
        ("sediment", QualityScenes.WrongSediment), ("clutter", () => QualityScenes.Clutter()), ("none", () => QualityScenes.NoObject()),
    ];

    public static int Run(string[] args)
    {
        var wanted = args.Where(a => !a.StartsWith('-')).ToList();
        if (wanted.Find(w => s_suites.All(s => s.Name != w)) is { } unknown)
        {
            Console.Error.WriteLine($"There is no suite {unknown}; there are: {string.Join(", ", s_suites.Select(s => s.Name))}.");
            return 2;
        }
        int most = args.FirstOrDefault(a => a.StartsWith("--first=", StringComparison.Ordinal)) is { } first ? int.Parse(first[8..]) : int.MaxValue;
        var lines = new List<string> { $"# Quality, {Machine.Name}", "" };
        void Say(string line)
        {
            Console.WriteLine(line);
            lines.Add(line);
        }
        var all = new List<SceneScore>();
        foreach (var (name, scenes) in s_suites.Where(s => wanted.Count == 0 || wanted.Contains(s.Name)))
        {
            var scores = new List<SceneScore>();
            foreach (var scene in scenes().Take(most))
            {
                scores.Add(SceneScore.Of(scene, Environment.ProcessorCount));
                foreach (string line in Lines(scores[^1]))
                    Say(line);
            }
            all.AddRange(scores);
            Say("");
            foreach (string line in Totals(name, scores))
                Say(line);
            Say("");
        }
        foreach (string line in Honesty(all))
            Say(line);
        if (args.Contains("--write"))
        {
            string folder = Path.Combine("bench", "results", Machine.Folder);
            Directory.CreateDirectory(folder);
            File.WriteAllLines(Path.Combine(folder, "quality.md"), lines);
        }
        return 0;
    }

    private static IEnumerable<string> Lines(SceneScore score)
    {
        var sand = score.Scene.Plan.StatedSediment ?? score.Scene.Scene.Sediment;
        yield return $"- {score.Scene.Name}: {score.Scene.Area:0} m², seabed {score.SeabedSnrDb:0} dB over noise, {sand.Name} {sand.SoundSpeed:0} m/s, {sand.AttenuationDbPerMetrePerKhz} dB/m/kHz";
        foreach (var thing in score.Things)
            yield return $"  - {thing.Thing.Name} at {thing.Thing.BurialOfTop:0.00} m, {thing.OverClutterDb:0} dB over what is near: " + (thing.Found is null ? "not found"
                : $"p {thing.Found.Probability.Value:0.000}, top {100 * thing.BurialError:+0.0;-0.0} cm, {100 * thing.Off:0.0} cm off, TS {thing.Found.TargetStrengthDb:0.0} dB");
        foreach (var target in score.False)
        {
            var near = score.Things.MinBy(t => t.Thing.Centre.HorizontalDistanceTo(target.Position));
            string where = near is null ? "" : $", {target.Position.Easting - near.Thing.Centre.Easting:+0.00;-0.00} m east and {target.Position.Northing - near.Thing.Centre.Northing:+0.00;-0.00} m north of {near.Thing.Name}";
            yield return $"  - false: p {target.Probability.Value:0.00} at {target.BurialDepth.Value:0.00} m, {target.LinesSeen} lines{where}";
        }
    }

    private static IEnumerable<string> Totals(string name, List<SceneScore> scores)
    {
        var things = scores.SelectMany(s => s.Things).ToList();
        var clear = things.Where(t => t.OverClutterDb >= 6).ToList();
        var found = things.Where(t => t.Found is { } f && f.Probability.Value > 0.5).ToList();
        double hectares = scores.Sum(s => s.Scene.Area) / 1e4;
        int wrong = scores.Sum(s => s.False.Count(t => t.Probability.Value > 0.5));
        yield return $"**{name}**: {hectares:0.000} ha; false targets over 0.5: {wrong} ({wrong / hectares:0.0} per hectare), listed: {scores.Sum(s => s.False.Count)}.";
        if (things.Count == 0)
            yield break;
        yield return $"Found over 0.5: {found.Count} of {things.Count}; over 0.9: {things.Count(t => t.Found is { } f && f.Probability.Value > 0.9)}; of the {clear.Count} that stand 6 dB or more over what is near: {clear.Count(found.Contains)}.";
        if (found.Count > 0)
            yield return $"Top: median {100 * Median(found.Select(t => t.BurialError)):+0.0;-0.0} cm, 90 % within {100 * Quantile(found.Select(t => Math.Abs(t.BurialError)), 0.9):0.0} cm, worst {100 * found.Max(t => Math.Abs(t.BurialError)):0.0} cm. Horizontally: 90 % within {100 * Quantile(found.Select(t => t.Off), 0.9):0.0} cm, worst {100 * found.Max(t => t.Off):0.0} cm.";
    }

    /// <summary>Of those said to be this probable, how many were.</summary>
    private static IEnumerable<string> Honesty(List<SceneScore> scores)
    {
        var said = scores.SelectMany(s => s.Things.Where(t => t.Found is not null).Select(t => (P: t.Found!.Probability.Value, True: 1.0)).Concat(s.False.Select(t => (P: t.Probability.Value, True: 0.0)))).ToList();
        if (said.Count == 0)
            yield break;
        yield return "| said | targets | were | ";
        yield return "|---|---|---|";
        foreach (var (low, high) in ((double, double)[])[(0.2, 0.4), (0.4, 0.6), (0.6, 0.8), (0.8, 0.95), (0.95, 1.01)])
        {
            var bin = said.Where(s => s.P >= low && s.P < high).ToList();
            if (bin.Count > 0)
                yield return $"| {bin.Average(b => b.P):0.00} | {bin.Count} | {bin.Average(b => b.True):0.00} |";
        }
        yield return "";
        yield return $"Brier score of the listed targets: {said.Average(s => (s.P - s.True) * (s.P - s.True)):0.000}.";
    }

    private static double Median(IEnumerable<double> values) => Signal.Robust.MedianOf(values);

    private static double Quantile(IEnumerable<double> values, double q) => Signal.Robust.Quantile(values.ToArray(), q);
}
