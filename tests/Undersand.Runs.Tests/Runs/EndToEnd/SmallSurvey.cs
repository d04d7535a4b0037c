using NodaTime;
using Undersand.Acoustics;
using Undersand.Positioning;
using Undersand.Simulation;
using Undersand.Storage.Surveys;

namespace Undersand.Runs.Tests.Runs.EndToEnd;

/// <summary>Surveys of two dozen square metres with one hard ball in the sand, simulated once a test run, and written as folders in all the ways a surveyor may.</summary>
internal static class SmallSurvey
{
    public const double East = 500_000, North = 5_760_000, Burial = 0.4, Diameter = 0.2, Length = 8;

    /// <summary>Where the ball lies: off every track, and not on a voxel.</summary>
    public static readonly GridPoint Ball = new(East + 3.63, North + 0.27, 0);

    private static readonly Lazy<SimulatedSurvey> s_two = new(() => Simulate(2, Array(5)));
    private static readonly Lazy<SimulatedSurvey> s_one = new(() => Simulate(1, Array(5)));
    private static readonly Lazy<SimulatedSurvey> s_single = new(() => Simulate(1, Array(1)));

    /// <summary>Two lines, five receivers.</summary>
    public static SimulatedSurvey TwoLines => s_two.Value;

    /// <summary>One line, five receivers.</summary>
    public static SimulatedSurvey OneLine => s_one.Value;

    /// <summary>One line, one receiver: the commonest instrument.</summary>
    public static SimulatedSurvey OneReceiver => s_single.Value;

    /// <summary>Writes a survey with navigation.csv, array.json and pings.csv, and the trace headers' positions as well.</summary>
    public static string Write(string folder, SimulatedSurvey made)
    {
        WriteWithHeaderPositions(folder, made);
        SurveyFolderWriter.WriteArray(folder, made.Survey.Array!);
        SurveyFolderWriter.WriteNavigation(folder, Fixes(made));
        SurveyFolderWriter.WritePings(folder, made.Lines);
        return folder;
    }

    /// <summary>Writes a survey whose positions lie in the trace headers only.</summary>
    public static string WriteWithHeaderPositions(string folder, SimulatedSurvey made, Func<Undersand.Storage.SegY.SegyWriterSettings, Undersand.Storage.SegY.SegyWriterSettings>? change = null)
    {
        SurveyFolderWriter.WriteSurvey(folder, made.Survey);
        foreach (ISurveyLine line in made.Lines)
            SurveyFolderWriter.WriteRecording(folder, line, made.Survey.Waveform, change);
        return folder;
    }

    public static IEnumerable<NavigationFix> Fixes(SimulatedSurvey made) =>
        made.Navigation.SelectMany(l => l).OrderBy(s => s.Time).Select(s => new NavigationFix(s.Time, new VehiclePose(s.Position, s.Attitude)));

    /// <summary>Receivers across the track, 15 cm apart.</summary>
    public static ArrayDescription Array(int receivers) =>
        new([new BodyOffset(0.15, 0, 0)], [.. Enumerable.Range(0, receivers).Select(i => new BodyOffset(-0.1, 0.15 * (i - 0.5 * (receivers - 1)), 0.02))], [], []);

    public static Scene Scene(int epsg = 32631) => new()
    {
        Name = "Tern Bank, trial",
        Epsg = epsg,
        Water = new Water(1500),
        Sediment = new Sediment(1650, 1950, 0.48),
        Seabed = new SeabedShape(East, North, 6) { SlopeEast = 0.01 },
        Objects = [new BuriedSphere("ball", Ball.Easting, Ball.Northing, Burial, Material.Iron, Sphere.Rigid(0.5 * Diameter))],
        Clutter = [new ClutterCloud(12, 2e-6, 0.7, 0.05, 1.2)],
    };

    public static SurveyPlan Plan(int lines, ArrayDescription array) => new()
    {
        Lines = [.. Enumerable.Range(0, lines).Select(i => new PlannedLine($"line-{i + 1:00}.sgy", East + (i % 2 == 1 ? Length : 0), North + 0.8 * (i - 0.5 * (lines - 1)), Angle.FromDegrees(i % 2 == 1 ? 270 : 90), Length, 0.8))],
        Array = array,
        Waveform = new Waveform(4000, 18000, 0.002, 0.1),
        SampleInterval = 20e-6,
        FirstSampleTime = 0.4e-3,
        SampleCount = 260,
        PingInterval = 0.125,
        Height = 1.0,
        Start = Instant.FromUtc(2026, 5, 4, 9, 30),
        Motion = new Motion { Height = 0.02, CrossTrack = 0.03, Roll = Angle.FromDegrees(0.8), Pitch = Angle.FromDegrees(0.5), Heading = Angle.FromDegrees(1) },
        Disturbances = new Disturbances { WhiteNoise = 0.5 },
        Image = new ImageSettings(0.9, 0.07),
    };

    private static SimulatedSurvey Simulate(int lines, ArrayDescription array) => Simulator.Run(Scene(), Plan(lines, array), seed: 5, degreeOfParallelism: 2);
}
