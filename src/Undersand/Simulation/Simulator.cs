namespace Undersand.Simulation;

/// <summary>The way forward: from a scene and a plan to recordings.</summary>
/// <remarks>
/// Shares formulae and constants with imaging but none of its ways: travel times come from Fermat's principle, the seabed's echo from the
/// Kirchhoff integral, spheres from their exact form functions. See docs/science/simulation.md.
/// </remarks>
public static class Simulator
{
    /// <summary>Simulates a survey.</summary>
    /// <param name="scene">What is really there.</param>
    /// <param name="plan">How it is surveyed.</param>
    /// <param name="seed">Of everything random; the same seed gives the same samples, whatever the number of threads.</param>
    /// <param name="degreeOfParallelism">Threads.</param>
    /// <param name="progress">Told the part done, 0 to 1, at each ping; from several threads at once.</param>
    /// <param name="cancellation">Stops between pings.</param>
    public static SimulatedSurvey Run(Scene scene, SurveyPlan plan, int seed = 1, int degreeOfParallelism = 1, IProgress<double>? progress = null,
        CancellationToken cancellation = default)
    {
        PlanRules.Check(plan);
        SceneModel model = new(scene, plan, seed);
        VehicleTrack[] tracks = [.. Enumerable.Range(0, plan.Lines.Count).Select(i => new VehicleTrack(plan, i, model.Seafloor, seed))];
        Ping[][] pings = [.. tracks.Select(t => Enumerable.Range(0, t.PingCount).Select(t.PingAt).ToArray())];
        float[][][] samples = Samples(model, pings, seed, degreeOfParallelism, progress, cancellation);
        return new SimulatedSurvey(
            Stated(scene, plan),
            [.. plan.Lines.Select((l, i) => new SimulatedLine(l.Name, pings[i], plan.SampleCount, plan.SampleInterval, samples[i]))],
            [.. tracks.Select(t => Enumerable.Range(0, t.PingCount).Select(t.StateAt).ToArray())],
            TruthOf(scene, model, seed));
    }

    /// <summary>Simulates a survey's recordings alone; see <see cref="Run"/>.</summary>
    /// <param name="scene">What is really there.</param>
    /// <param name="plan">How it is surveyed.</param>
    /// <param name="seed">Of everything random.</param>
    /// <param name="degreeOfParallelism">Threads.</param>
    public static IReadOnlyList<ISurveyLine> Lines(Scene scene, SurveyPlan plan, int seed = 1, int degreeOfParallelism = 1) =>
        Run(scene, plan, seed, degreeOfParallelism).Lines;

    private static float[][][] Samples(SceneModel model, Ping[][] pings, int seed, int threads, IProgress<double>? progress, CancellationToken cancellation)
    {
        SurveyPlan plan = model.Plan;
        (int Line, int Ping)[] all = [.. pings.SelectMany((line, i) => Enumerable.Range(0, line.Length).Select(p => (i, p)))];
        float[][][] samples = [.. pings.Select(line => new float[line.Length][])];
        NoiseMaker noise = new(plan, seed);
        int done = 0;
        ParallelOptions options = new() { MaxDegreeOfParallelism = threads, CancellationToken = cancellation };
        Parallel.ForEach(System.Collections.Concurrent.Partitioner.Create(all, loadBalance: true), options, () => new PingSimulator(model), (at, _, simulator) =>
        {
            Ping ping = pings[at.Line][at.Ping];
            float[] made = new float[ping.Receivers.Count * plan.SampleCount];
            simulator.Run(ping, made);
            noise.Apply(at.Line, at.Ping, ping.Receivers.Count, made);
            samples[at.Line][at.Ping] = made;
            progress?.Report((double)Interlocked.Increment(ref done) / all.Length);
            return simulator;
        }, _ => { });
        return samples;
    }

    private static Survey Stated(Scene scene, SurveyPlan plan) => new()
    {
        Name = scene.Name,
        Epsg = scene.Epsg,
        Water = plan.StatedWater ?? scene.Water,
        Sediment = plan.StatedSediment ?? scene.Sediment,
        Waveform = plan.Waveform,
        Calibration = plan.StatesCalibration
            ? new Calibration(plan.SourcePressure, plan.PascalPerUnit, plan.Start.InUtc().Date, 1)
            : null,
        Image = plan.Image,
        Prior = plan.Prior,
        Array = plan.Array,
    };

    private static Truth TruthOf(Scene scene, SceneModel model, int seed) =>
        new(scene.Name, seed, [.. scene.Objects.Select(o => TrueObjects.Of(o, model.Seafloor, scene.SmallestBody))]);
}
