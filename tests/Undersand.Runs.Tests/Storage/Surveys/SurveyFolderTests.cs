using NodaTime;
using Undersand.Storage.SegY;
using Undersand.Storage.Surveys;

namespace Undersand.Runs.Tests.Storage.Surveys;

public sealed class SurveyFolderTests
{
    private static void Near(GridPoint expected, GridPoint found, double tolerance) => Assert.InRange(expected.DistanceTo(found), 0, tolerance);

    private static float[] Read(ISurveyLine line, int ping)
    {
        float[] samples = new float[line.SampleCount * line.PingAt(ping).Receivers.Count];
        line.Read(ping, samples);
        return samples;
    }

    [Fact]
    public void What_was_written_is_read_again()
    {
        using var survey = new SmallSurvey();
        using SurveyFolder folder = survey.Open();
        Assert.Equal(["line-1.sgy", "line-2.sgy"], folder.Lines.Select(line => line.Name));
        foreach ((ISurveyLine found, MemoryLine expected) in folder.Lines.Zip(survey.Lines))
        {
            Assert.Equal((expected.PingCount, expected.SampleCount), (found.PingCount, found.SampleCount));
            Assert.Equal(expected.SampleInterval, found.SampleInterval, 1e-12);
            for (int i = 0; i < found.PingCount; i++)
            {
                (Ping a, Ping b) = (expected.PingAt(i), found.PingAt(i));
                Assert.Equal((a.Number, a.Receivers.Count), (b.Number, b.Receivers.Count));
                Assert.Equal(a.FirstSampleTime, b.FirstSampleTime, 1e-9);
                Assert.InRange((a.Time - b.Time).TotalSeconds, 0, 0.999);
                Near(a.Source, b.Source, 0.005);
                foreach ((Receiver x, Receiver y) in a.Receivers.Zip(b.Receivers))
                    Near(x.Position, y.Position, 0.01);
                Assert.Equal(expected.All(i), Read(found, i));
                Assert.Same(b, found.PingAt(i));
            }
        }
    }

    [Fact]
    public void Every_default_taken_is_an_assumption_and_unknown_fields_are_named()
    {
        using var survey = new SmallSurvey();
        survey.WriteJson("""{ "crs": "EPSG:32631", "weather": "fine", "prior": { "luck": 3 } }""");
        using SurveyFolder folder = survey.Open();
        Assert.Equal(SmallSurvey.Chirp, folder.Survey.Waveform);
        Assert.Equal(new Sediment(1650, 1950, 0.48, "medium sand"), folder.Survey.Sediment);
        Assert.Equal(1500, folder.Survey.Water.SoundSpeed);
        string assumed = string.Join("\n", folder.Survey.Assumptions.Select(a => a.Quantity));
        foreach (string quantity in (string[])["name of the survey", "sound speed in the water", "sound speed in the sediment", "density of the sediment", "attenuation in the sediment", "start frequency", "deepest burial", "edge of a voxel", "objects expected", "smallest object", "salinity", "temperature"])
            Assert.Contains(quantity, assumed, StringComparison.Ordinal);
        string cautions = string.Join("\n", folder.Survey.Cautions.Select(c => c.Text));
        Assert.Contains("weather", cautions, StringComparison.Ordinal);
        Assert.Contains("prior.luck", cautions, StringComparison.Ordinal);
    }

    [Fact]
    public void Survey_json_wins_over_headers_that_contradict_it()
    {
        using var survey = new SmallSurvey();
        survey.WriteJson("""{ "crs": "EPSG:32631", "waveform": { "kind": "linear_chirp", "start_hz": 5000, "end_hz": 18000, "duration_s": 0.005, "taper_fraction": 0.2 } }""");
        using SurveyFolder folder = survey.Open();
        Assert.Equal(new Waveform(5000, 18000, 0.005, 0.2), folder.Survey.Waveform);
        Assert.Contains(folder.Survey.Cautions, c => c.Text.Contains("start frequency of the chirp is 4000 Hz", StringComparison.Ordinal));
    }

    [Fact]
    public void Water_comes_from_a_cast_at_the_vehicles_depth_and_sediment_from_its_type()
    {
        using var survey = new SmallSurvey();
        Directory.CreateDirectory(survey["casts"]);
        File.WriteAllText(survey["casts/1.csv"], "depth_m,temperature_c,salinity\n0,20,30\n10.5,10,34\n20,8,35\n");
        survey.WriteJson("""{ "crs": "EPSG:32631", "water": { "cast": "casts/1.csv" }, "sediment": { "type": "fine sand" } }""");
        using SurveyFolder folder = survey.Open();
        Assert.Equal(SmallSurvey.Formulas.SoundSpeed(10, 34, 10.5), folder.Survey.Water.SoundSpeed, 1e-3);
        Assert.Equal("fine sand", folder.Survey.Sediment.Name);
        Assert.Contains(folder.Inputs, input => input.Path == "casts/1.csv");
    }

    [Fact]
    public void Navigation_and_lever_arms_place_the_transducers_as_well_as_headers()
    {
        using var survey = new SmallSurvey();
        survey.Navigate();
        using SurveyFolder folder = survey.Open();
        Ping found = folder.Lines[0].PingAt(6), expected = survey.Lines[0].PingAt(6);
        Assert.Equal(expected.Time, found.Time);
        Near(new GridPoint(500000, 5761001.5, 10.5), found.Source, 1e-6);
        Near(new GridPoint(500000.3, 5761001.5, 10.4), found.Receivers[2].Position, 1e-6);
    }

    [Fact]
    public void Whole_seconds_with_navigation_are_restored_and_their_error_is_stated()
    {
        using var survey = new SmallSurvey();
        survey.Navigate(pings: false);
        using SurveyFolder folder = survey.Open();
        Assert.Contains(folder.Survey.Cautions, c => c.Text.Contains("m off", StringComparison.Ordinal));
        for (int i = 0; i < SmallSurvey.Pings; i++)
            Assert.InRange(Math.Abs((folder.Lines[0].PingAt(i).Time - survey.Lines[0].PingAt(i).Time).TotalSeconds), 0, 0.3);
    }

    [Fact]
    public void Flaws_are_cautions_and_the_rest_is_read()
    {
        using var survey = new SmallSurvey();
        survey.Change("line-1.sgy", bytes =>
        {
            SmallSurvey.Put16(bytes, SmallSurvey.HeaderOf(2, 1), 29, 2);
            SmallSurvey.Put32(bytes, SmallSurvey.HeaderOf(2, 1) + 240, 1, 0x7FC00000);
            for (int r = 0; r < 4; r++)
                SmallSurvey.Put16(bytes, SmallSurvey.HeaderOf(5, r), 29, 3);
            SmallSurvey.Put16(bytes, SmallSurvey.HeaderOf(7, 3), 29, 8);
        });
        survey.Cut("line-2.sgy", 40);
        File.Create(survey["empty.sgy"]).Dispose();
        Directory.CreateDirectory(survey["folder.sgy"]);
        using SurveyFolder folder = survey.Open();
        ISurveyLine line = folder.Lines[0];
        Assert.Equal(11, line.PingCount);
        Assert.Equal([true, false, true, true], line.PingAt(2).Receivers.Select(r => r.Live));
        Assert.All(Read(line, 2)[SmallSurvey.Samples..(2 * SmallSurvey.Samples)], sample => Assert.Equal(0, sample));
        Assert.Equal([true, true, true, false], line.PingAt(6).Receivers.Select(r => r.Live));
        float[] last = Read(folder.Lines[1], 11);
        Assert.Equal(survey.Lines[1].All(11)[..^10], last[..^10]);
        Assert.All(last[^10..], sample => Assert.Equal(0, sample));
        string cautions = string.Join("\n", folder.Survey.Cautions.Select(c => $"{c.Where}: {c.Text}"));
        foreach (string part in (string[])["empty.sgy", "folder.sgy", "dead or dummy", "no live receiver", "missing in pings", "last trace lacks 10 of 300"])
            Assert.Contains(part, cautions, StringComparison.Ordinal);
    }

    [Fact]
    public void Traces_in_any_order_give_the_same_pings()
    {
        using var survey = new SmallSurvey();
        byte[] bytes = File.ReadAllBytes(survey["line-1.sgy"]);
        int[] order = [.. Enumerable.Range(0, SmallSurvey.Pings * SmallSurvey.Receivers)];
        new Random(3).Shuffle(order);
        File.WriteAllBytes(survey["line-1.sgy"], [.. bytes[..3600], .. order.SelectMany(t => bytes[(3600 + t * SmallSurvey.TraceSize)..(3600 + (t + 1) * SmallSurvey.TraceSize)])]);
        using SurveyFolder folder = survey.Open();
        for (int i = 0; i < SmallSurvey.Pings; i++)
            Assert.Equal(survey.Lines[0].All(i), Read(folder.Lines[0], i));
    }

    [Fact]
    public void A_replica_trace_is_found_and_makes_the_formula_unnecessary()
    {
        using var survey = new SmallSurvey(sweep: false);
        survey.WriteJson("""{ "crs": "EPSG:32631" }""");
        float[] replica = [.. Enumerable.Range(1, 50).Select(k => (float)Math.Sin(k))];
        foreach (MemoryLine line in survey.Lines)
            SurveyFolderWriter.WriteRecording(survey.Path, new MemoryLine(line.Name, SmallSurvey.Pings, SmallSurvey.Receivers, SmallSurvey.Samples) { Replica = replica }, null);
        using SurveyFolder folder = survey.Open();
        Assert.Null(folder.Survey.Waveform);
        Assert.Equal(replica, folder.Lines[0].Replica!.Value.ToArray());
        Assert.Equal(SmallSurvey.Pings, folder.Lines[0].PingCount);
    }

    [Theory]
    [InlineData(SegyFormat.UInt16, 32768)]
    [InlineData(SegyFormat.UInt8, 128)]
    [InlineData(SegyFormat.UInt24, 8388608)]
    public void Samples_on_the_middle_of_an_unsigned_range_lose_their_offset(SegyFormat format, int offset)
    {
        using var survey = new SmallSurvey();
        var line = new OffsetLine(new MemoryLine("line-1.sgy", SmallSurvey.Pings, SmallSurvey.Receivers, SmallSurvey.Samples, amplitude: 100), offset);
        SurveyFolderWriter.WriteRecording(survey.Path, line, SmallSurvey.Chirp, settings => settings with { Format = format });
        using SurveyFolder folder = survey.Open();
        float[] expected = [.. new MemoryLine("", SmallSurvey.Pings, SmallSurvey.Receivers, SmallSurvey.Samples, amplitude: 100).All(3)];
        foreach ((float a, float b) in expected.Zip(Read(folder.Lines[0], 3)))
            Assert.Equal(a, b, 0.51f + offset * 1e-7f);
    }

    private sealed class OffsetLine(MemoryLine line, float offset) : ISurveyLine
    {
        public string Name => line.Name;
        public int PingCount => line.PingCount;
        public int SampleCount => line.SampleCount;
        public double SampleInterval => line.SampleInterval;
        public bool IsCorrelated => false;
        public ReadOnlyMemory<float>? Replica => null;
        public Ping PingAt(int pingIndex) => line.PingAt(pingIndex);

        public void Read(int pingIndex, Span<float> samples)
        {
            line.Read(pingIndex, samples);
            foreach (ref float sample in samples)
                sample += offset;
        }
    }

    [Fact]
    public void Inputs_carry_their_sha_256()
    {
        using var survey = new SmallSurvey();
        using SurveyFolder folder = survey.Open();
        Undersand.Storage.Surveys.InputFile input = folder.Inputs.Single(i => i.Path == "line-1.sgy");
        byte[] bytes = File.ReadAllBytes(survey["line-1.sgy"]);
        Assert.Equal((bytes.LongLength, Convert.ToHexStringLower(System.Security.Cryptography.SHA256.HashData(bytes))), (input.Bytes, input.Sha256(null, TestContext.Current.CancellationToken)));
    }

    [Fact]
    public void Revision_2_1_keeps_positions_and_times_exactly()
    {
        using var survey = new SmallSurvey();
        foreach (MemoryLine line in survey.Lines)
            SurveyFolderWriter.WriteRecording(survey.Path, line, SmallSurvey.Chirp, settings => settings with { Revision = SegyRevision.Rev21 });
        using SurveyFolder folder = survey.Open();
        (Ping expected, Ping found) = (survey.Lines[1].PingAt(7), folder.Lines[1].PingAt(7));
        Assert.Equal((expected.Time, expected.Source), (found.Time, found.Source));
        Assert.Equal(expected.Receivers, found.Receivers);
    }

    [Fact]
    public void A_page_about_a_recording_says_what_is_in_it()
    {
        using var survey = new SmallSurvey();
        Support.Page.Is("Storage/Surveys/Inspection", string.Join("\n", SegyInspection.Of(survey["line-1.sgy"]).ToLines()).Replace(survey.Path + Path.DirectorySeparatorChar, "", StringComparison.Ordinal) + "\n");
    }
}
