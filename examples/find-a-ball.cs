#:project ../src/Undersand

// A ball in the sand, surveyed along two lines, imaged and found, all in memory.  dotnet run examples/find-a-ball.cs

using Undersand;
using Undersand.Acoustics;
using Undersand.Detection;
using Undersand.Imaging;
using Undersand.Imaging.Conditioning;
using Undersand.Simulation;

const double East = 500_000, North = 5_760_000, Length = 8;
ParallelOptions parallel = new() { MaxDegreeOfParallelism = Environment.ProcessorCount };

// What is there: six metres of water, sand, and a hard ball of 20 cm whose top lies 40 cm down.
Scene scene = new()
{
    Name = "One ball",
    Water = new Water(1500),
    Sediment = new Sediment(1650, 1950, 0.48),
    Seabed = new SeabedShape(East, North, 6),
    Objects = [new BuriedSphere("ball", East + 3.6, North + 0.3, 0.40, Material.Iron, Sphere.Rigid(0.10))],
    Clutter = [new ClutterCloud(12, 2e-6, 0.7, 0.05, 1.2)],
};

// How it is surveyed: there and back, five receivers across the track, a metre above the sand.
SurveyPlan plan = new()
{
    Lines = [new("there.sgy", East, North - 0.4, Angle.FromDegrees(90), Length, 0.8), new("back.sgy", East + Length, North + 0.4, Angle.FromDegrees(270), Length, 0.8)],
    Array = new ArrayDescription([new BodyOffset(0.15, 0, 0)], [.. Enumerable.Range(-2, 5).Select(i => new BodyOffset(-0.1, 0.15 * i, 0.02))], [], []),
    Waveform = new Waveform(4000, 18000, 0.002, 0.1),
    SampleInterval = 20e-6,
    FirstSampleTime = 0.4e-3,
    SampleCount = 260,
    PingInterval = 0.125,
    Height = 1,
    Disturbances = new Disturbances { WhiteNoise = 0.5 },
    Image = new ImageSettings(0.9, 0.07),
};
SimulatedSurvey made = Simulator.Run(scene, plan, seed: 5, parallel.MaxDegreeOfParallelism);

// From recordings to a volume: each line is scanned for its seabed and faults, then all echoes are summed in each voxel.
ImagingSettings settings = new();
LineScanner scanner = new(made.Survey, settings.Conditioning, parallel);
SurveyImager imager = new(made.Survey, [.. made.Lines.Select(line => scanner.Scan(line))], settings, parallel);
MemoryVolume volume = imager.ImageAll();

// From the volume to targets: first what nothing looks like here, then what stands out from it.
Detector detector = new(made.Survey, volume, imager, new DetectionSettings { DegreeOfParallelism = parallel.MaxDegreeOfParallelism });
detector.LearnNull(null, default);
foreach (Target target in detector.Targets(null, null, default))
    Console.WriteLine($"{target.Id}: {target.Position.Easting - East:0.00} m east, {target.Position.Northing - North:0.00} m north, top at {target.BurialDepth.Value:0.00} m, probability {target.Probability.Value:0.000}");
Console.WriteLine("In truth: 3.60 m east, 0.30 m north, top at 0.40 m.");
