using Undersand.Imaging.Conditioning;
using static Undersand.Tests.Imaging.SyntheticLine;

namespace Undersand.Tests.Imaging.Conditioning;

public sealed class FaultTests
{
    [Fact]
    public void A_burst_over_two_pings_is_found_in_both()
    {
        var line = Make(40, _ => 0.9, 3);
        foreach (int p in new[] { 20, 21 })
            AddBurst(line, p, 4e-3, 1e-3, 3);
        var scan = Scan(line);
        Assert.Equal(2, scan.BurstPings);
        Assert.All(Enumerable.Range(0, 3), r => Assert.Equal(TraceState.Burst, scan.States[20 * scan.Receivers + r]));
        Assert.Equal(38, Enumerable.Range(0, 40).Count(scan.IsUsable));
    }

    [Fact]
    public void Changing_height_and_lost_pings_are_no_bursts()
    {
        int[] lost = [7, 8, 10, 11];
        var scan = Scan(Make(40, p => 0.9 + 0.02 * p, 3, seabed: p => lost.Contains(p) ? 0 : 0.35, direct: 0.1));
        Assert.Equal(0, scan.BurstPings);
    }

    [Fact]
    public void Bursts_in_most_pings_are_counted_but_not_left_out()
    {
        var line = Make(40, _ => 0.9, 3);
        for (int p = 0; p < 40; p += 1)
            AddBurst(line, p, 6e-3 + 0.5e-3 * (p * 7 % 11), 0.3e-3, 3);
        var scan = Scan(line);
        Assert.True(Enumerable.Range(0, 40).Count(scan.IsUsable) == 40);
    }

    [Fact]
    public void A_clipped_trace_is_found_by_the_recorders_limit()
    {
        var line = Make(30, _ => 0.9, 2);
        foreach (int p in new[] { 12, 13, 14 })
            Clip(line.Trace(p, 1), -0.15f, 0.1499f);
        for (int p = 0; p < 30; p++)
            if (p is < 12 or > 14)
                Scale(line.Trace(p, 1), 0.1f);
        var scan = Scan(line);
        Assert.Equal(3, scan.ClippedTraces);
        Assert.Equal(TraceState.Clipped, scan.States[13 * 2 + 1]);
        Assert.Equal(TraceState.Good, scan.States[13 * 2]);
    }

    [Fact]
    public void Coarse_samples_of_a_quiet_recording_are_not_clipped()
    {
        // Eight-bit samples of which a few steps are used: crests are flat, but each trace's at its own height.
        var line = Make(60, _ => 0.9, 2, noise: 0.004);
        foreach (var samples in line.Samples)
            for (int i = 0; i < samples.Length; i++)
                samples[i] = (float)Math.Round(samples[i] * 20);
        Assert.Equal(0, Scan(line).States.Count(s => s == TraceState.Clipped));
    }

    [Fact]
    public void A_line_that_is_clipped_throughout_is_used_and_said_to_be()
    {
        var line = Make(30, _ => 0.9, 2);
        for (int p = 0; p < 30; p++)
            for (int r = 0; r < 2; r++)
                Clip(line.Trace(p, r), -0.15f, 0.15f);
        var scan = Scan(line);
        Assert.Equal(60, scan.ClippedTraces);
        Assert.Equal(30, Enumerable.Range(0, 30).Count(scan.IsUsable));
    }

    [Fact]
    public void A_receiver_that_hears_next_to_nothing_is_dead()
    {
        var line = Make(30, _ => 0.9, 4);
        for (int p = 0; p < 30; p++)
            Scale(line.Trace(p, 2), 1e-3f);
        var scan = Scan(line);
        Assert.Equal([3], scan.DeadReceivers);
        Assert.Equal(30, scan.States.Count(s => s == TraceState.Dead));
    }

    [Fact]
    public void A_dead_receiver_is_told_by_its_number_where_pings_lack_another()
    {
        var line = Make(30, _ => 0.9, 4);
        for (int p = 0; p < 30; p++)
        {
            Scale(line.Trace(p, 2), 1e-3f);
            if (p % 3 == 0)
            {
                line.Pings[p] = line.Pings[p] with { Receivers = [.. line.Pings[p].Receivers.Skip(1)] };
                line.Samples[p] = line.Samples[p][Samples..];
            }
        }
        var scan = Scan(line);
        Assert.Equal([3], scan.DeadReceivers);
        // Of a ping without receiver 1, the second trace is the dead one.
        Assert.Equal(TraceState.Dead, scan.States[3 * scan.Receivers + 1]);
        Assert.Equal(TraceState.Good, scan.States[3 * scan.Receivers + 2]);
        Assert.Equal(TraceState.Dead, scan.States[4 * scan.Receivers + 2]);
    }

    [Fact]
    public void A_trace_marked_dead_may_hold_anything()
    {
        var line = Make(30, _ => 0.9, 3);
        for (int p = 0; p < 30; p++)
        {
            line.Trace(p, 0).Fill(float.NaN);
            line.Pings[p] = line.Pings[p] with { Receivers = [.. line.Pings[p].Receivers.Select((r, i) => r with { Live = i != 0 })] };
        }
        Assert.Equal([1], Scan(line).DeadReceivers);
    }

    [Fact]
    public void A_live_trace_of_no_numbers_is_refused()
    {
        var line = Make(10, _ => 0.9, 2);
        line.Trace(4, 1)[77] = float.PositiveInfinity;
        var fault = Assert.Throws<SurveyException>(() => Scan(line));
        Assert.Contains("ping 5, receiver 2", fault.Message);
    }

    [Fact]
    public void Silent_traces_are_drop_outs_and_the_rest_of_their_ping_is_used()
    {
        var line = Make(30, _ => 0.9, 3);
        line.Trace(9, 0).Clear();
        line.Trace(15, 2).Fill(0.25f);
        var scan = Scan(line);
        Assert.Equal(2, scan.DropOuts);
        Assert.True(scan.IsUsable(9) && scan.IsUsable(15));
    }

    [Fact]
    public void The_scan_is_the_same_for_one_and_two_threads()
    {
        var line = Make(30, p => 0.9 + 0.01 * Math.Sin(p), 3);
        LineScan one = new LineScanner(SandSurvey, new(), LineScenes.OneThread).Scan(line), two = Scan(line);
        Assert.Equal(one.SeabedTimes, two.SeabedTimes);
        Assert.Equal(one.Noise, two.Noise);
        Assert.Equal(one.States, two.States);
    }

    private static LineScan Scan(MemoryLine line) => LineScenes.Scan(SandSurvey, line);

    private static void AddBurst(MemoryLine line, int ping, double time, double duration, double amplitude)
    {
        for (int r = 0; r < line.Pings[ping].Receivers.Count; r++)
        {
            var trace = line.Trace(ping, r);
            for (int i = (int)(time / Interval); i < (time + duration) / Interval && i < trace.Length; i++)
                trace[i] += (float)(amplitude * Math.Sin(2 * Math.PI * 15_000 * i * Interval));
        }
    }

    private static void Clip(Span<float> trace, float low, float high)
    {
        foreach (ref float x in trace)
            x = Math.Clamp(x, low, high);
    }

    private static void Scale(Span<float> trace, float factor)
    {
        foreach (ref float x in trace)
            x *= factor;
    }
}
