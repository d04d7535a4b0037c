using System.Numerics;
using Undersand.Simulation;

namespace Undersand.Tests.Simulation;

/// <summary>Scenes and plans small enough for tests.</summary>
internal static class SmallScenes
{
    public const double East = 500_000, North = 5_761_000;

    public static Scene Empty(double attenuation = 0) => new()
    {
        Name = "small",
        Water = new Water(1500),
        Sediment = new Sediment(1650, 1950, attenuation),
        Seabed = new SeabedShape(East, North, 6),
    };

    public static ArrayDescription OneReceiver(double forward = 0, double starboard = 0) =>
        new([new BodyOffset(0, 0, 0)], [new BodyOffset(forward, starboard, 0)], [], []);

    /// <summary>A single ping over the middle, no noise, all paths but those to the objects switched off.</summary>
    public static SurveyPlan OnePing(ArrayDescription? array = null, double height = 0.9) => new()
    {
        Lines = [new PlannedLine("line-01.sgy", East, North, Angle.FromDegrees(90), 0, 1)],
        Array = array ?? OneReceiver(),
        Waveform = new Waveform(4000, 18000, 0.005, 0.1),
        SampleInterval = 10e-6,
        FirstSampleTime = 0,
        SampleCount = 1200,
        PingInterval = 0.25,
        Height = height,
        SourcePressure = 1800,
        PascalPerUnit = 1,
        Paths = new Paths { Direct = 0, Seabed = false },
    };

    public static float[] Trace(Scene scene, SurveyPlan plan, int ping = 0, int receiver = 0)
    {
        ISurveyLine line = Simulator.Lines(scene, plan)[0];
        float[] all = new float[plan.Array.Receivers.Count * line.SampleCount];
        line.Read(ping, all);
        return all.AsSpan(receiver * line.SampleCount, line.SampleCount).ToArray();
    }

    /// <summary>The chirp as it would be recorded after a delay.</summary>
    public static double[] Delayed(SurveyPlan plan, double delay, double amplitude) => [.. Enumerable.Range(0, plan.SampleCount)
        .Select(i => amplitude * Undersand.Signal.Chirp.At(plan.Waveform, plan.FirstSampleTime + i * plan.SampleInterval - delay))];

    /// <summary>Root of the energy of the difference over that of the expected.</summary>
    public static double RelativeError(float[] got, double[] expected)
    {
        double difference = 0, energy = 0;
        for (int i = 0; i < got.Length; i++)
        {
            difference += (got[i] - expected[i]) * (got[i] - expected[i]);
            energy += expected[i] * expected[i];
        }
        return Math.Sqrt(difference / energy);
    }

    public static BuriedPoint Point(double east, double north, double burial) => new("point", East + east, North + north, burial, Material.Other, 0.05);

    /// <summary>The trace's spectrum at one frequency, by the sum itself.</summary>
    public static Complex Spectrum(IReadOnlyList<float> trace, SurveyPlan plan, double frequency)
    {
        Complex sum = 0;
        for (int i = 0; i < trace.Count; i++)
            sum += trace[i] * Complex.FromPolarCoordinates(1, -2 * Math.PI * frequency * i * plan.SampleInterval);
        return sum;
    }

    /// <summary>Amplitude of the chirp that the trace holds at a delay: its projection on it.</summary>
    public static double Projection(float[] trace, SurveyPlan plan, double delay)
    {
        double[] chirp = Delayed(plan, delay, 1);
        double along = 0, energy = 0;
        for (int i = 0; i < trace.Length; i++)
        {
            along += trace[i] * chirp[i];
            energy += chirp[i] * chirp[i];
        }
        return along / energy;
    }
}
