namespace Undersand.Simulation;

/// <summary>Survey plans for scenes of known truth, from a few choices.</summary>
public static class QualityPlans
{
    /// <summary>Easting of every quality scene's south-west.</summary>
    public const double East = 430_000;
    /// <summary>Northing of every quality scene's middle line.</summary>
    public const double North = 5_950_000;

    /// <summary>The water of every quality scene.</summary>
    public static Water Water { get; } = new(1500, 1025, 11, 34.5);

    /// <summary>The sand of every quality scene: of the kind that low frequencies see.</summary>
    public static Sediment Sand { get; } = new(1650, 1950, 0.48, "sand");

    /// <summary>Receivers in a line across the track.</summary>
    /// <param name="count">How many.</param>
    /// <param name="spacing">Metres between them.</param>
    public static ArrayDescription Across(int count = 12, double spacing = 0.12) =>
        With([.. Enumerable.Range(0, count).Select(i => new BodyOffset(-0.1, spacing * (i - 0.5 * (count - 1)), 0.02))]);

    /// <summary>Receivers in a level ring about the source.</summary>
    /// <param name="count">How many.</param>
    /// <param name="radius">Metres.</param>
    public static ArrayDescription Ring(int count = 12, double radius = 0.5) =>
        With([.. Enumerable.Range(0, count).Select(i => new BodyOffset(radius * Math.Cos(2 * Math.PI * i / count), radius * Math.Sin(2 * Math.PI * i / count), 0.02))]);

    /// <summary>Receivers in no order at all.</summary>
    public static ArrayDescription Uneven() => With([new(0.31, -0.62, 0.03), new(-0.22, -0.41, 0), new(0.12, -0.28, 0.05), new(-0.35, -0.07, 0.02), new(0.4, 0.09, 0),
        new(-0.05, 0.23, 0.04), new(0.2, 0.37, 0.01), new(-0.3, 0.52, 0.03), new(0.07, 0.71, 0.02)]);

    /// <summary>One receiver, the commonest instrument.</summary>
    public static ArrayDescription One() => With([new BodyOffset(-0.25, 0, 0.02)]);

    /// <summary>A calm survey of parallel lines, there and back by turns, over a rectangle that begins at the origin and lies about the middle line.</summary>
    /// <param name="lines">How many.</param>
    /// <param name="spacing">Metres between them.</param>
    /// <param name="length">Metres.</param>
    /// <param name="array">Transducers.</param>
    /// <param name="lowest">Hertz.</param>
    /// <param name="highest">Hertz.</param>
    /// <param name="height">Metres above the seabed.</param>
    /// <param name="pingSpacing">Metres.</param>
    /// <param name="noise">Standard deviation of white noise, Pa.</param>
    public static SurveyPlan Parallel(int lines = 3, double spacing = 1.0, double length = 14, ArrayDescription? array = null, double lowest = 4000, double highest = 18_000,
        double height = 1.0, double pingSpacing = 0.12, double noise = 0.3)
    {
        const double speed = 0.6, first = 0.3e-3, pulse = 0.005, deepest = 2.6;
        double interval = highest > 20_000 ? 16e-6 : 20e-6, last = 2.6 * height / 1500 + 2.6 * deepest / 1650 + pulse + 0.5e-3;
        return new SurveyPlan
        {
            Lines = [.. Enumerable.Range(0, lines).Select(i => new PlannedLine($"line-{i + 1:00}.sgy", East + (i % 2 == 0 ? 0 : length),
                North + spacing * (i - 0.5 * (lines - 1)), Angle.FromDegrees(i % 2 == 0 ? 90 : 270), length, speed))],
            Array = array ?? Across(),
            Waveform = new Waveform(lowest, highest, pulse, 0.1),
            SampleInterval = interval,
            FirstSampleTime = first,
            SampleCount = (int)Math.Ceiling((last - first) / interval),
            PingInterval = pingSpacing / speed,
            Height = height,
            Motion = new Motion { Height = 0.02, CrossTrack = 0.03, Roll = Angle.FromDegrees(0.8), Pitch = Angle.FromDegrees(0.6), Heading = Angle.FromDegrees(1) },
            Paths = new Paths { Direct = 0.4, Vehicle = 0.05, Surface = -0.7 },
            Disturbances = new Disturbances { WhiteNoise = noise },
            Image = new ImageSettings(2.5, 0.05),
        };
    }

    private static ArrayDescription With(IReadOnlyList<BodyOffset> receivers) => new([new BodyOffset(0.15, 0, 0)], receivers, [], []);
}
