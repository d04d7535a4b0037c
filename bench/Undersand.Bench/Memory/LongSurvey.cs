using System.Diagnostics;
using NodaTime;
using Undersand.Acoustics;
using Undersand.Positioning;
using Undersand.Runs;
using Undersand.Simulation;
using Undersand.Storage.Surveys;

namespace Undersand.Bench.Memory;

/// <summary>
/// Peak resident memory over a long survey. A short simulated line is written end to end until the recording has the pings asked for; each mode is a
/// process of its own, so that the peak is that mode's: <c>memory write FOLDER PINGS</c>, <c>memory read FOLDER</c>, <c>memory process FOLDER RESULTS</c>.
/// </summary>
internal static class LongSurvey
{
    private const int Receivers = 8, Samples = 1536;
    private const double Spacing = 0.1;

    public static int Run(string[] args)
    {
        var clock = Stopwatch.StartNew();
        switch (args)
        {
            case ["write", var folder, var pings]:
                Write(folder, int.Parse(pings));
                break;
            case ["read", var folder]:
                Read(folder);
                break;
            case ["process", var folder, var results]:
                foreach (string line in new SurveyRunner().Process(new ProcessRequest(folder, results) { Voxel = 0.1, MaxBurial = 1 }, new NoProgress(), default).Lines)
                    Console.WriteLine(line);
                break;
            default:
                Console.Error.WriteLine("memory write FOLDER PINGS | read FOLDER | process FOLDER RESULTS");
                return 2;
        }
        using var self = Process.GetCurrentProcess();
        Console.WriteLine($"{args[0]}: {clock.Elapsed.TotalSeconds:0} s, peak resident memory {self.PeakWorkingSet64 / 1048576.0:0} MiB");
        return 0;
    }

    private static void Write(string folder, int pings)
    {
        var scene = new Scene { Name = "long", Water = new Water(1500), Sediment = new Sediment(1650, 1950, 0.48), Seabed = new SeabedShape(500_000, 5_760_000, 6), Objects = [SceneParts.Ball("ball", 500_003, 5_760_000, 0.4, 0.2, "iron, cast")] };
        var array = new ArrayDescription([new BodyOffset(0.15, 0, 0)], [.. Enumerable.Range(0, Receivers).Select(i => new BodyOffset(-0.1, 0.15 * (i - 3.5), 0))], [], []);
        var plan = new SurveyPlan
        {
            Lines = [new PlannedLine("long.sgy", 500_000, 5_760_000, Angle.FromDegrees(90), 6, 1)],
            Array = array,
            Waveform = new Waveform(4000, 14000, 0.002, 0.1),
            SampleInterval = 30e-6,
            FirstSampleTime = 0,
            SampleCount = Samples,
            PingInterval = Spacing,
            Height = 1,
            Disturbances = new Disturbances { WhiteNoise = 0.5 },
        };
        SimulatedSurvey made = Simulator.Run(scene, plan, 1, Environment.ProcessorCount);
        SurveyFolderWriter.WriteSurvey(folder, made.Survey);
        SurveyFolderWriter.WriteRecording(folder, new Repeated(made.Lines[0], pings), made.Survey.Waveform);
        Console.WriteLine($"{new FileInfo(Path.Combine(folder, "long.sgy")).Length / 1e6:0} MB");
    }

    private static void Read(string folder)
    {
        using SurveyFolder survey = SurveyFolder.Open(folder, new SurveyFormulas(SoundSpeed.OfSeaWater, _ => null, [], epsg => ProjectedCrs.TryFromEpsg(epsg, out _)));
        double sum = 0;
        foreach (ISurveyLine line in survey.Lines)
        {
            float[] samples = new float[line.PingAt(0).Receivers.Count * line.SampleCount];
            for (int p = 0; p < line.PingCount; p++)
            {
                line.Read(p, samples);
                sum += samples[p % samples.Length];
            }
            Console.WriteLine($"{line.Name}: {line.PingCount} pings, check sum {sum:G6}");
        }
    }

    /// <summary>A line over and over, each time farther along.</summary>
    private sealed class Repeated(ISurveyLine line, int pings) : ISurveyLine
    {
        public string Name => line.Name;
        public int PingCount => pings;
        public int SampleCount => line.SampleCount;
        public double SampleInterval => line.SampleInterval;
        public bool IsCorrelated => false;
        public ReadOnlyMemory<float>? Replica => null;

        public Ping PingAt(int pingIndex)
        {
            Ping ping = line.PingAt(pingIndex % line.PingCount);
            double on = pingIndex / line.PingCount * line.PingCount * Spacing;
            GridPoint Moved(GridPoint p) => p with { Easting = p.Easting + on };
            return ping with
            {
                Number = pingIndex + 1,
                Time = line.PingAt(0).Time + Duration.FromSeconds(pingIndex * Spacing),
                Source = Moved(ping.Source),
                Receivers = [.. ping.Receivers.Select(r => r with { Position = Moved(r.Position) })],
            };
        }

        public void Read(int pingIndex, Span<float> samples) => line.Read(pingIndex % line.PingCount, samples);
    }
}
