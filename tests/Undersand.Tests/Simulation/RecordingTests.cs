using Undersand.Simulation;

namespace Undersand.Tests.Simulation;

public class RecordingTests
{
    private static readonly SurveyPlan s_short = SmallScenes.OnePing(new ArrayDescription([new BodyOffset(0, 0, 0)],
        [new BodyOffset(0, -0.2, 0), new BodyOffset(0, 0.2, 0), new BodyOffset(0.3, 0, 0.1)], [], [])) with
    {
        Lines = [new PlannedLine("a.sgy", SmallScenes.East, SmallScenes.North, Angle.FromDegrees(90), 1, 1), new PlannedLine("b.sgy", SmallScenes.East + 1, SmallScenes.North + 1, Angle.FromDegrees(270), 1, 1)],
        Motion = new Motion { Height = 0.03, CrossTrack = 0.05, Roll = Angle.FromDegrees(2), Pitch = Angle.FromDegrees(1), Heading = Angle.FromDegrees(3) },
        Paths = new Paths(),
        SampleInterval = 20e-6,
        SampleCount = 500,
        Disturbances = new Disturbances { WhiteNoise = 1, ColouredNoise = 2, DropOuts = 0.05, Tones = [new SteadyTone(7000, 3)], OtherSonar = new OtherSonar(0.5, 12_000, 0.5e-3, 40) },
    };

    private static readonly Scene s_busy = SmallScenes.Empty(0.48) with
    {
        Seabed = new SeabedShape(SmallScenes.East, SmallScenes.North, 6) { Roughness = new SeabedRoughness(0.004) },
        Objects = [SceneParts.Ball("shot", SmallScenes.East + 0.5, SmallScenes.North + 0.3, 0.5, 0.12, "iron, cast"), SceneParts.PotteryScatter("pots", SmallScenes.East, SmallScenes.North, 0.3, 0.5, 4, 0.1, 0.3, 1)],
        Clutter = [new ClutterCloud(5, 1e-5, 0.7, 0.1, 1.5)],
    };

    [Fact]
    public void One_thread_and_three_give_the_same_samples()
    {
        Assert.Equal(All(Simulator.Lines(s_busy, s_short, 3, 1)), All(Simulator.Lines(s_busy, s_short, 3, 3)));
    }

    [Fact]
    public void Another_seed_gives_other_samples()
    {
        Assert.NotEqual(All(Simulator.Lines(s_busy, s_short, 3)), All(Simulator.Lines(s_busy, s_short, 4)));
    }

    [Fact]
    public void Noise_has_the_level_asked_for()
    {
        SurveyPlan plan = Quiet() with { Disturbances = new Disturbances { WhiteNoise = 3, ColouredNoise = 4 }, PascalPerUnit = 0.5 };
        float[] all = All(Simulator.Lines(SmallScenes.Empty(), plan));
        double rms = Math.Sqrt(all.Sum(v => (double)v * v) / all.Length);
        Assert.Equal(5 / 0.5, rms, 0.3);
    }

    [Fact]
    public void Noise_differs_between_pings_receivers_and_lines()
    {
        SurveyPlan plan = Quiet() with { Disturbances = new Disturbances { WhiteNoise = 1 } };
        float[] all = All(Simulator.Lines(SmallScenes.Empty(), plan));
        Assert.Equal(all.Length, all.Distinct().Count(), 0.001 * all.Length);
    }

    [Fact]
    public void Silent_and_dead_receivers_record_next_to_nothing_and_only_the_dead_say_so()
    {
        SurveyPlan plan = s_short with { Disturbances = new Disturbances { WhiteNoise = 1, SilentReceivers = [1], DeadReceivers = [3] } };
        ISurveyLine line = Simulator.Lines(s_busy, plan)[0];
        float[] ping = new float[3 * line.SampleCount];
        line.Read(2, ping);
        Assert.Equal([true, true, false], line.PingAt(2).Receivers.Select(r => r.Live));
        Assert.True(ping.Take(500).Max(Math.Abs) < 0.01 && ping.Skip(1000).Max(Math.Abs) < 0.01);
        Assert.True(ping.Skip(500).Take(500).Max(Math.Abs) > 10);
    }

    [Fact]
    public void Drop_outs_are_whole_traces_and_as_many_as_asked_for()
    {
        SurveyPlan plan = Quiet() with { Disturbances = new Disturbances { WhiteNoise = 1, DropOuts = 0.2 } };
        float[] all = All(Simulator.Lines(SmallScenes.Empty(), plan));
        double silent = all.Chunk(plan.SampleCount).Count(t => t.All(v => v == 0)) / (double)(all.Length / plan.SampleCount);
        Assert.InRange(silent, 0.14, 0.26);
        Assert.Equal(silent, all.Count(v => v == 0) / (double)all.Length, 1e-3);
    }

    [Fact]
    public void A_clipping_recorder_goes_no_further_than_its_range()
    {
        SurveyPlan plan = s_short with { Disturbances = new Disturbances { ClipPressure = 50 } };
        float[] all = All(Simulator.Lines(s_busy, plan));
        Assert.Equal(50, all.Max(Math.Abs));
        Assert.True(all.Count(v => Math.Abs(v) == 50) > 100);
    }

    [Fact]
    public void A_channel_gain_is_in_the_recording()
    {
        SurveyPlan louder = s_short with { Array = s_short.Array with { ChannelGainsDb = [0, 20 * Math.Log10(2), 0] }, Disturbances = new Disturbances() };
        float[] with = SmallScenes.Trace(s_busy, louder, 1, 1), without = SmallScenes.Trace(s_busy, louder with { Array = s_short.Array }, 1, 1);
        Assert.All(with.Zip(without), pair => Assert.Equal(2 * pair.Second, pair.First, 1e-3));
    }

    [Fact]
    public void Lever_arms_turn_with_the_vehicle()
    {
        ISurveyLine line = Simulator.Lines(s_busy, s_short)[0];
        for (int p = 0; p < line.PingCount; p++)
        {
            Ping ping = line.PingAt(p);
            Assert.Equal(0.4, ping.Receivers[0].Position.DistanceTo(ping.Receivers[1].Position), 1e-8);
            Assert.Equal(Math.Sqrt(0.1), ping.Source.DistanceTo(ping.Receivers[2].Position), 1e-8);
            // Heading east, starboard is south.
            Assert.True(ping.Receivers[1].Position.Northing < ping.Receivers[0].Position.Northing - 0.35);
            Assert.True(ping.Receivers[2].Position.Easting > ping.Source.Easting + 0.25);
        }
    }

    [Fact]
    public void Pings_keep_their_interval_and_lines_follow_one_another()
    {
        IReadOnlyList<ISurveyLine> lines = Simulator.Lines(s_busy, s_short);
        Assert.Equal(5, lines[0].PingCount);
        Assert.Equal(0.25, (lines[0].PingAt(3).Time - lines[0].PingAt(2).Time).TotalSeconds, 1e-9);
        Assert.True(lines[1].PingAt(0).Time > lines[0].PingAt(4).Time);
    }

    [Fact]
    public void What_the_survey_states_may_differ_from_the_truth()
    {
        Sediment wrong = new(1650 * 1.03, 1950, 0.48);
        SimulatedSurvey survey = Simulator.Run(s_busy, s_short with { StatedSediment = wrong, StatesCalibration = false }, cancellation: TestContext.Current.CancellationToken);
        Assert.Equal(wrong, survey.Survey.Sediment);
        Assert.Null(survey.Survey.Calibration);
    }

    [Fact]
    public void The_truth_tells_tops_sizes_and_decoys_apart()
    {
        Scene scene = s_busy with { Objects = [.. s_busy.Objects, SceneParts.ShellBed("shells", SmallScenes.East, SmallScenes.North, 0.2, 0.5, 0.5, 3, 0.002, 1), SceneParts.Ball("bead", SmallScenes.East, SmallScenes.North, 0.4, 0.04, "glass")] };
        IReadOnlyList<TrueObject> truth = Simulator.Run(scene, s_short, cancellation: TestContext.Current.CancellationToken).Truth.Objects;
        TrueObject shot = truth.Single(o => o.Name == "shot");
        Assert.Equal(0.5, shot.BurialOfTop);
        Assert.Equal(0.12, shot.Thickness, 1e-12);
        Assert.InRange(shot.Centre.Depth, 6.5, 6.62);
        Assert.Equal(["shot", "pots"], truth.Where(o => o.IsBody).Select(o => o.Name));
        Assert.Equal(["shells"], truth.Where(o => o.IsDecoy).Select(o => o.Name));
    }

    [Fact]
    public void A_plan_beyond_half_the_sampling_rate_is_refused()
    {
        ArgumentException refused = Assert.Throws<ArgumentException>(() => Simulator.Lines(s_busy, s_short with { SampleInterval = 30e-6 }));
        Assert.Contains("half the sampling rate", refused.Message);
    }

    [Fact]
    public void Simulation_stops_when_told_to()
    {
        using CancellationTokenSource stop = new();
        stop.Cancel();
        Assert.ThrowsAny<OperationCanceledException>(() => Simulator.Run(s_busy, s_short, cancellation: stop.Token));
    }

    private static SurveyPlan Quiet() => s_short with { Paths = new Paths { Direct = 0, Seabed = false }, PingInterval = 0.02 };

    private static float[] All(IReadOnlyList<ISurveyLine> lines) => [.. lines.SelectMany(line => Enumerable.Range(0, line.PingCount).SelectMany(p =>
    {
        float[] ping = new float[line.PingAt(p).Receivers.Count * line.SampleCount];
        line.Read(p, ping);
        return ping;
    }))];
}
