using System.Globalization;
using Undersand.Positioning;
using Undersand.Runs.Tests.Support;
using Undersand.Signal;
using Undersand.Simulation;
using Undersand.Storage.SegY;
using Undersand.Storage.Surveys;

namespace Undersand.Runs.Tests.Runs.EndToEnd;

/// <summary>The same sea handed over in all the ways that the contract allows: the ball is found in the same place.</summary>
public sealed class EndToEndWaysTests : IDisposable
{
    private static readonly Lazy<FoundTarget> s_usual = new(() =>
    {
        using var folder = new TestFolder();
        return Process(SmallSurvey.Write(folder["survey"], SmallSurvey.OneLine));
    });

    private readonly TestFolder _folder = new();

    private string Survey => _folder["survey"];

    public void Dispose() => _folder.Dispose();

    [Fact]
    public void Exact_header_positions_are_as_good_as_navigation()
    {
        SmallSurvey.WriteWithHeaderPositions(Survey, SmallSurvey.OneLine, s => s with { Revision = SegyRevision.Rev21 });
        AssertSame(Process(Survey), 0.002);
    }

    // Integers hold centimetres at this northing; the ball is seen from many pings, so their rounding averages out.
    [Fact]
    public void Header_positions_in_centimetres_put_the_target_within_millimetres_too()
    {
        SmallSurvey.WriteWithHeaderPositions(Survey, SmallSurvey.OneLine);
        AssertSame(Process(Survey), 0.008);
    }

    [Fact]
    public void Recordings_correlated_already_give_the_same_target()
    {
        Waveform sweep = SmallSurvey.OneLine.Survey.Waveform!;
        double interval = SmallSurvey.OneLine.Lines[0].SampleInterval;
        float[] replica = Chirp.Sample(sweep, interval);
        WriteChanged(line => new ChangedLine(line) { IsCorrelated = true, ChangeSamples = (raw, ping) => Correlate(raw, raw.Length / ping.Receivers.Count, replica) });
        AssertSame(Process(Survey), 0.005);
    }

    [Fact]
    public void A_recorded_replica_serves_where_no_waveform_is_stated()
    {
        float[] replica = Chirp.Sample(SmallSurvey.OneLine.Survey.Waveform!, SmallSurvey.OneLine.Lines[0].SampleInterval);
        WriteChanged(line => new ChangedLine(line) { Replica = replica });
        SurveyFolderWriter.WriteSurvey(Survey, SmallSurvey.OneLine.Survey with { Waveform = null });
        SurveyFolderWriter.WriteRecording(Survey, new ChangedLine(SmallSurvey.OneLine.Lines[0]) { Replica = replica }, null);
        AssertSame(Process(Survey), 0.005);
    }

    [Fact]
    public void One_receiver_a_ping_gives_an_ellipse_across_the_track_and_the_mirror_image()
    {
        SmallSurvey.Write(Survey, SmallSurvey.OneReceiver);
        new SurveyRunner().Process(new ProcessRequest(Survey, _folder["results"]), new NoProgress(), TestContext.Current.CancellationToken);
        FoundTarget found = Assert.Single(FoundTarget.AllIn(_folder["results"]), t => t.Probability > 0.5);
        // The track runs east at the northing of the survey's middle: eastings are known, northings are not.
        Assert.Equal(SmallSurvey.Ball.Easting, found.Easting, 0.05);
        Assert.True(found.Major > 2 * found.Minor, $"{found}");
        Assert.InRange(found.EllipseAzimuth < 90 ? found.EllipseAzimuth : 180 - found.EllipseAzimuth, 0, 10);
        Assert.True(Math.Abs(found.Northing - SmallSurvey.Ball.Northing) < 3 * found.Major || Math.Abs(found.AlternativeNorthing!.Value - SmallSurvey.Ball.Northing) < 3 * found.Major, $"{found}");
        // The mirror image across the track, which wobbles by centimetres around its plan.
        ISurveyLine line = SmallSurvey.OneReceiver.Lines[0];
        double track = Enumerable.Range(0, line.PingCount).Select(p => line.PingAt(p).Source).Where(s => Math.Abs(s.Easting - found.Easting) < 0.6).Average(s => s.Northing);
        Assert.Equal(found.Northing - track, track - found.AlternativeNorthing!.Value, 0.1);
        Assert.Equal(found.Easting, found.AlternativeEasting!.Value, 0.1);
    }

    [Theory]
    [InlineData(SegyRevision.Rev0, SegyFormat.IbmFloat32, SegyByteOrder.BigEndian)]
    [InlineData(SegyRevision.Rev1, SegyFormat.Int16, SegyByteOrder.LittleEndian)]
    [InlineData(SegyRevision.Rev20, SegyFormat.UInt16, SegyByteOrder.PairSwapped)]
    [InlineData(SegyRevision.Rev21, SegyFormat.Int32, SegyByteOrder.LittleEndian)]
    public void Every_revision_format_and_byte_order_gives_the_same_target(SegyRevision revision, SegyFormat format, SegyByteOrder order)
    {
        // Integers need numbers that fill them: calibration says what one is worth. Unsigned ones rest at half their range.
        double gain = format is SegyFormat.IbmFloat32 or SegyFormat.Float64 ? 1 : 20_000 / LargestSample.Value, rest = format is SegyFormat.UInt16 ? 32_768 : 0;
        Survey stated = SmallSurvey.OneLine.Survey;
        // Revision 0 can only say whole milliseconds of delay: such an instrument records from the start.
        int early = revision == SegyRevision.Rev0 ? (int)Math.Round(SmallSurvey.OneLine.Lines[0].PingAt(0).FirstSampleTime / SmallSurvey.OneLine.Lines[0].SampleInterval) : 0;
        WriteChanged(line => new ChangedLine(line)
        {
            SampleCount = line.SampleCount + early,
            ChangePing = p => early > 0 ? p with { FirstSampleTime = 0 } : p,
            ChangeSamples = (raw, _) => [.. raw.Chunk(line.SampleCount).SelectMany(trace => Enumerable.Repeat(0f, early).Concat(trace)).Select(x => (float)(x * gain + rest))],
        }, s => s with { Revision = revision, Format = format, ByteOrder = order });
        SurveyFolderWriter.WriteSurvey(Survey, stated with { Calibration = stated.Calibration! with { PascalPerUnit = stated.Calibration.PascalPerUnit / gain } });
        AssertSame(Process(Survey), 0.005);
    }

    [Theory]
    [InlineData(25831)]
    [InlineData(32719)]
    public void Other_reference_systems_change_longitude_and_latitude_only(int epsg)
    {
        SmallSurvey.Write(Survey, SmallSurvey.OneLine);
        SurveyFolderWriter.WriteSurvey(Survey, SmallSurvey.OneLine.Survey with { Epsg = epsg });
        new SurveyRunner().Process(new ProcessRequest(Survey, _folder["results"]), new NoProgress(), TestContext.Current.CancellationToken);
        FoundTarget found = FoundTarget.BallIn(_folder["results"]);
        Assert.Equal((s_usual.Value.Easting, s_usual.Value.Northing), (found.Easting, found.Northing));
        string said = OutsideReader.RunPython(
            """
            import json, sys
            from osgeo import gdal, osr
            f = json.load(open(sys.argv[1]))['features'][0]
            s, t = osr.SpatialReference(), osr.SpatialReference()
            s.ImportFromEPSG(int(sys.argv[3])); t.ImportFromEPSG(4326); t.SetAxisMappingStrategy(osr.OAMS_TRADITIONAL_GIS_ORDER)
            x, y, _ = osr.CoordinateTransformation(s, t).TransformPoint(f['properties']['easting_m'], f['properties']['northing_m'])
            assert gdal.Open(sys.argv[2]).GetSpatialRef().GetAuthorityCode(None) == sys.argv[3]
            print(max(abs(x - f['geometry']['coordinates'][0]), abs(y - f['geometry']['coordinates'][1])))
            """, "osgeo", _folder["results/targets.geojson"], _folder["results/maps/seabed.tif"], epsg.ToString(CultureInfo.InvariantCulture));
        Assert.True(double.Parse(said, CultureInfo.InvariantCulture) < 2e-8, said);
    }

    private static readonly Lazy<double> LargestSample = new(() =>
    {
        ISurveyLine line = SmallSurvey.OneLine.Lines[0];
        float[] samples = new float[line.PingAt(0).Receivers.Count * line.SampleCount];
        double most = 0;
        for (int p = 0; p < line.PingCount; p++)
        {
            line.Read(p, samples);
            most = Math.Max(most, samples.Max(Math.Abs));
        }
        return most;
    });

    private void WriteChanged(Func<ISurveyLine, ISurveyLine> change, Func<SegyWriterSettings, SegyWriterSettings>? settings = null)
    {
        SmallSurvey.Write(Survey, SmallSurvey.OneLine);
        foreach (ISurveyLine line in SmallSurvey.OneLine.Lines)
            SurveyFolderWriter.WriteRecording(Survey, change(line), SmallSurvey.OneLine.Survey.Waveform, settings);
    }

    private static void AssertSame(FoundTarget found, double metres)
    {
        FoundTarget usual = s_usual.Value;
        Assert.True(usual.DistanceToBall < 0.05, $"{usual}");
        Assert.Equal(usual.Easting, found.Easting, metres);
        Assert.Equal(usual.Northing, found.Northing, metres);
        Assert.Equal(usual.Burial, found.Burial, metres);
        Assert.True(found.Probability > 0.5, $"{found}");
    }

    private static FoundTarget Process(string survey)
    {
        string results = survey + "-results";
        new SurveyRunner().Process(new ProcessRequest(survey, results), new NoProgress(), CancellationToken.None);
        return FoundTarget.BallIn(results);
    }

    /// <summary>Lag by lag, straight from the definition, as an instrument does it before recording; an echo's peak is its amplitude.</summary>
    private static float[] Correlate(float[] raw, int samples, float[] replica)
    {
        float[] correlated = new float[raw.Length];
        double energy = replica.Sum(x => (double)x * x);
        for (int i = 0; i < raw.Length; i++)
        {
            int trace = i / samples * samples, last = Math.Min(replica.Length, trace + samples - i);
            double sum = 0;
            for (int k = 0; k < last; k++)
                sum += (double)raw[i + k] * replica[k];
            correlated[i] = (float)(sum / energy);
        }
        return correlated;
    }
}
