using System.Diagnostics;
using System.Globalization;
using Undersand.Acoustics;
using Undersand.Positioning;
using Undersand.Runs;
using Undersand.Simulation;
using Undersand.Storage.Surveys;
using Undersand.Workbench;

namespace Undersand.Bench.Watching;

/// <summary>
/// A survey that is watched while it is recorded: lines of 200 pings × 24 receivers, a metre apart, come one after another, each once the one before is imaged.
/// What is reported is the time from a line's last byte until results with it are shown.
/// </summary>
internal static class WatchingBench
{
    private const int Receivers = 24, Pings = 200;
    private const double PingInterval = 0.2, Speed = 0.8;
    private static readonly TimeSpan s_patience = TimeSpan.FromMinutes(10);

    public static async Task<int> RunAsync(string[] args)
    {
        if (args.Length == 0 || Directory.Exists(args[0]))
        {
            Console.Error.WriteLine("watching NEW-FOLDER [LINES] [FIRST-MEASURED] [HEIGHT-OF-SAND-WAVES]");
            return 2;
        }
        int count = args.Length > 1 ? int.Parse(args[1], CultureInfo.InvariantCulture) : 20, first = args.Length > 2 ? int.Parse(args[2], CultureInfo.InvariantCulture) : 1;
        string recorded = Path.Combine(args[0], "recorded"), survey = Path.Combine(args[0], "survey"), results = Path.Combine(args[0], "results");
        string[] lines = Record(recorded, count, args.Length > 3 ? double.Parse(args[3], CultureInfo.InvariantCulture) : 0);
        Directory.CreateDirectory(survey);
        foreach (string table in Directory.GetFiles(recorded).Where(f => !lines.Contains(Path.GetFileName(f))))
            File.Copy(table, Path.Combine(survey, Path.GetFileName(table)));
        await using RunningWorkbench workbench = await WorkbenchServer.StartAsync(new WorkbenchOptions(survey) { Out = results, Watch = true });
        if (first > 1)
            Console.WriteLine($"the first {first - 1} together: {await ComeAsync(recorded, survey, results, lines[..(first - 1)])}");
        foreach (string line in lines[(first - 1)..])
            Console.WriteLine($"{line}: {await ComeAsync(recorded, survey, results, [line])}");
        using var self = Process.GetCurrentProcess();
        Console.WriteLine($"peak resident memory {self.PeakWorkingSet64 / 1048576.0:0} MiB; {Environment.ProcessorCount} processors");
        return 0;
    }

    private static async Task<string> ComeAsync(string recorded, string survey, string results, string[] lines)
    {
        foreach (string line in lines)
            File.Copy(Path.Combine(recorded, line), Path.Combine(survey, line));
        var clock = Stopwatch.StartNew();
        RunRecord? record;
        while ((record = RunRecord.TryRead(Path.Combine(results, "run.json"))) is not { Finished: true } || !lines.All(line => record.Inputs.Any(i => i.File == line)))
        {
            if (clock.Elapsed > s_patience)
                throw new TimeoutException($"{lines[^1]} is not there after {s_patience.TotalMinutes:0} min");
            await Task.Delay(100);
        }
        return FormattableString.Invariant($"{clock.Elapsed.TotalSeconds:0.0} s (run {record.Timings!.Seconds:0.0}: {string.Join(", ", record.Timings.StepSeconds.Select(s => FormattableString.Invariant($"{s.Step} {s.Seconds:0.0}")))}; {record.Timings.TilesTakenOver} tiles kept)");
    }

    private static string[] Record(string folder, int count, double waves)
    {
        const double east = 430_000, north = 5_950_000, length = Pings * PingInterval * Speed;
        var random = new Random(3);
        SceneObject[] balls = [.. Enumerable.Range(0, 16).Select(k => SceneParts.Ball($"ball {k}", east + 2 + (length - 4) * random.NextDouble(), north + count * random.NextDouble(), 0.2 + random.NextDouble(), 0.15, "iron, cast"))];
        var scene = new Scene { Name = "watched", Water = new Water(1500), Sediment = new Sediment(1650, 1950, 0.48), Seabed = new SeabedShape(east, north, 6) { Roughness = new SeabedRoughness(0.002), Ripples = waves > 0 ? [new Ripple(6, waves, Angle.FromDegrees(20))] : [] }, Objects = balls, Clutter = [new ClutterCloud(2, 1e-5, 0.7, 0.05, 2.2), new ClutterCloud(4, 2e-6, 1, 0.05, 2.2)] };
        var plan = new SurveyPlan
        {
            Lines = [.. Enumerable.Range(0, count).Select(i => new PlannedLine($"line-{i + 1:00}.sgy", i % 2 == 0 ? east : east + length, north + i, Angle.FromDegrees(i % 2 == 0 ? 90 : 270), length, Speed))],
            Array = new ArrayDescription([new BodyOffset(0.25, 0, 0)], [.. Enumerable.Range(0, Receivers).Select(i => new BodyOffset(-0.1, 0.06 * (i - 0.5 * (Receivers - 1)), 0.02))], [], []),
            Waveform = new Waveform(4000, 18000, 0.005, 0.1),
            SampleInterval = 20e-6,
            FirstSampleTime = 0.4e-3,
            SampleCount = 580,
            PingInterval = PingInterval,
            Height = 1,
            Disturbances = new Disturbances { WhiteNoise = 0.5 },
        };
        SimulatedSurvey made = Simulator.Run(scene, plan, 1, Environment.ProcessorCount);
        SurveyFolderWriter.WriteSurvey(folder, made.Survey);
        SurveyFolderWriter.WriteArray(folder, made.Survey.Array!);
        SurveyFolderWriter.WriteNavigation(folder, made.Navigation.SelectMany(l => l).OrderBy(s => s.Time).Select(s => new NavigationFix(s.Time, new VehiclePose(s.Position, s.Attitude))));
        SurveyFolderWriter.WritePings(folder, made.Lines);
        foreach (ISurveyLine line in made.Lines)
            SurveyFolderWriter.WriteRecording(folder, line, made.Survey.Waveform);
        return [.. made.Lines.Select(l => l.Name)];
    }
}
