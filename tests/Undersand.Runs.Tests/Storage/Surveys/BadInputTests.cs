using System.Text;
using Undersand.Runs.Tests.Support;
using Undersand.Storage.Surveys;

namespace Undersand.Runs.Tests.Storage.Surveys;

/// <summary>Each kind of unusable survey is refused in one sentence; all sentences together make a page that somebody has read.</summary>
public sealed class BadInputTests
{
    private const string File1 = "line-1.sgy", File2 = "line-2.sgy";

    private static readonly (string Name, Action<SmallSurvey> Spoil)[] Faults =
    [
        ("empty folder", s => Array.ForEach(Directory.GetFiles(s.Path), File.Delete)),
        ("no survey.json", s => File.Delete(s["survey.json"])),
        ("survey.json is no JSON", s => s.WriteJson("{ \"crs\": \"EPSG:32631\",\n \"name\" }")),
        ("no crs", s => s.WriteJson("{}")),
        ("crs is no code", s => s.WriteJson("""{ "crs": "UTM 31" }""")),
        ("unknown EPSG", s => s.WriteJson("""{ "crs": "EPSG:99999" }""")),
        ("number as text", s => s.WriteJson("""{ "crs": "EPSG:32631", "water": { "sound_speed_m_s": "1500" } }""")),
        ("sound speed in feet", s => s.WriteJson("""{ "crs": "EPSG:32631", "water": { "sound_speed_m_s": 4900 } }""")),
        ("unknown sediment", s => s.WriteJson("""{ "crs": "EPSG:32631", "sediment": { "type": "porridge" } }""")),
        ("missing cast", s => s.WriteJson("""{ "crs": "EPSG:32631", "water": { "cast": "casts/1.csv" } }""")),
        ("cast elsewhere", s => s.WriteJson("""{ "crs": "EPSG:32631", "water": { "cast": "../1.csv" } }""")),
        ("half a calibration", s => s.WriteJson("""{ "crs": "EPSG:32631", "calibration": { "pascal_per_unit": 1 } }""")),
        ("truncated within a trace", s => s.Cut(File2, SmallSurvey.TraceSize / 2)),
        ("truncated in the middle", s => s.Cut(File2, 17 * SmallSurvey.TraceSize + 700)),
        ("truncated after the headers", s => File.WriteAllBytes(s[File2], File.ReadAllBytes(s[File2])[..3700])),
        ("last ping cut", s => s.Cut(File2, SmallSurvey.TraceSize + 8)),
        ("file of zeros", s => File.WriteAllBytes(s[File1], new byte[100000])),
        ("text", s => File.WriteAllText(s[File1], new StringBuilder().Insert(0, "Nothing to hear here.\n", 400).ToString())),
        ("noise", s => { byte[] bytes = new byte[50000]; new Random(4).NextBytes(bytes); File.WriteAllBytes(s[File1], bytes); }),
        ("sample count too great", s => { s.Change(File1, b => SmallSurvey.Put16(b, 3200, 21, 311)); s.EachTrace(File1, t => SmallSurvey.Put16(t, 0, 115, 311)); }),
        ("no sample count", s => { s.Change(File1, b => SmallSurvey.Put16(b, 3200, 21, 0)); s.EachTrace(File1, t => SmallSurvey.Put16(t, 0, 115, 0)); }),
        ("no sample interval", s => { s.Change(File1, b => SmallSurvey.Put16(b, 3200, 17, 0)); s.EachTrace(File1, t => SmallSurvey.Put16(t, 0, 117, 0)); }),
        ("NaN", s => s.Change(File1, b => SmallSurvey.Put32(b, SmallSurvey.HeaderOf(3, 2) + 240, 1 + 4 * 41, 0x7FC00000))),
        ("infinity", s => s.Change(File1, b => SmallSurvey.Put32(b, SmallSurvey.HeaderOf(0, 0) + 240, 1, 0x7F800000))),
        ("float beyond 32 bits", s => { SurveyFolderWriter.WriteRecording(s.Path, s.Lines[0], SmallSurvey.Chirp, w => w with { Format = Undersand.Storage.SegY.SegyFormat.IbmFloat32 }); s.Change(File1, b => SmallSurvey.Put32(b, SmallSurvey.HeaderOf(2, 0) + 240, 1, 0x7FFFFFFF)); }),
        ("all samples zero", s => s.EachTrace(File1, t => t[240..].Clear())),
        ("envelope", s => SurveyFolderWriter.WriteRecording(s.Path, new Envelope(s.Lines[0]), null)),
        ("all traces dead", s => s.EachTrace(File1, t => SmallSurvey.Put16(t, 0, 29, 2))),
        ("coordinates all zero", s => s.EachTrace(File1, t => t.Slice(72, 16).Clear())),
        ("coordinates in degrees", s => s.EachTrace(File1, t => SmallSurvey.Put16(t, 0, 89, 3))),
        ("receivers above the water", s => s.EachTrace(File1, t => SmallSurvey.Put32(t, 0, 41, 10400))),
        ("two surveys mixed", s => SurveyFolderWriter.WriteRecording(s.Path, new MemoryLine("other.sgy", 5, 4, 300, 507000), SmallSurvey.Chirp)),
        ("waveform beyond Nyquist", s => s.WriteJson("""{ "crs": "EPSG:32631", "waveform": { "kind": "linear_chirp", "start_hz": 4000, "end_hz": 26000, "duration_s": 0.005 } }""")),
        ("waveform of another kind", s => s.WriteJson("""{ "crs": "EPSG:32631", "waveform": { "kind": "ricker" } }""")),
        ("waveform missing", s => { s.WriteJson("""{ "crs": "EPSG:32631" }"""); foreach (MemoryLine line in s.Lines) SurveyFolderWriter.WriteRecording(s.Path, line, null); }),
        ("times backwards", s => s.Change(File1, b => { for (int r = 0; r < 4; r++) SmallSurvey.Put16(b, SmallSurvey.HeaderOf(8, r), 163, 0 - 0); for (int p = 0; p < 8; p++) for (int r = 0; r < 4; r++) SmallSurvey.Put16(b, SmallSurvey.HeaderOf(p, r), 163, 5); })),
        ("navigation without lever arms", s => { s.Navigate(); File.Delete(s["array.json"]); }),
        ("navigation starts late", s => { s.Navigate(); string[] rows = File.ReadAllLines(s["navigation.csv"]); File.WriteAllLines(s["navigation.csv"], [rows[0], .. rows[3..]]); }),
        ("navigation ends early", s => { s.Navigate(); File.WriteAllLines(s["navigation.csv"], File.ReadAllLines(s["navigation.csv"])[..4]); }),
        ("navigation backwards", s => { s.Navigate(); string[] rows = File.ReadAllLines(s["navigation.csv"]); (rows[3], rows[4]) = (rows[4], rows[3]); File.WriteAllLines(s["navigation.csv"], rows); }),
        ("navigation lacks a column", s => { s.Navigate(); File.WriteAllText(s["navigation.csv"], "time_utc,easting,northing,depth_m\n"); }),
        ("navigation with a comma", s => { s.Navigate(); File.AppendAllText(s["navigation.csv"], "2026-05-04T10:00:09Z,500000,12;3,10,0,0,0\n"); }),
        ("navigation in local time", s => { s.Navigate(); File.AppendAllText(s["navigation.csv"], "2026-05-04T10:00:09+02:00,500000,12,10,0,0,0\n"); }),
        ("too few lever arms", s => { s.Navigate(); File.WriteAllText(s["array.json"], """{ "sources": [[0, 0, 0]], "receivers": [[0, 0, 0]] }"""); }),
        ("no times with navigation", s => { s.Navigate(pings: false); s.EachTrace(File1, t => t.Slice(156, 10).Clear()); }),
        ("shared seconds at speed", s => { s.Navigate(pings: false); File.WriteAllLines(s["navigation.csv"], ["time_utc,easting,northing,depth_m,heading_deg,roll_deg,pitch_deg", "2026-05-04T09:59:59Z,500000,5761000,10,0,0,0", "2026-05-04T10:00:09Z,500000,5761100,10,0,0,0"]); }),
        ("a ping is not listed", s => { s.Navigate(); File.WriteAllLines(s["pings.csv"], File.ReadAllLines(s["pings.csv"]).Where(l => !l.Contains(",105,", StringComparison.Ordinal))); }),
        ("pings.csv contradicts", s => { s.Navigate(); File.WriteAllText(s["pings.csv"], File.ReadAllText(s["pings.csv"]).Replace("10:00:01", "10:00:41", StringComparison.Ordinal)); }),
        ("magnetometer in gauss", s => File.WriteAllText(s["magnetometer.csv"], "time_utc,easting,northing,depth_m,total_field_nt\n2026-05-04T10:00:00Z,500000,5761000,4,0.49\n")),
        ("magnetometer backwards", s => File.WriteAllText(s["magnetometer.csv"], "time_utc,easting,northing,depth_m,total_field_nt\n2026-05-04T10:00:01Z,500000,5761000,4,49000\n2026-05-04T10:00:00Z,500000,5761000,4,49000\n")),
        ("magnetometer lacks a column", s => File.WriteAllText(s["magnetometer.csv"], "time_utc,easting,northing,total_field_nt\n")),
        ("outcome of another kind", s => File.WriteAllText(s["outcomes.csv"], "easting,northing,radius_m,reached_depth_m,outcome,material,note\n500000,5761000,1,0.5,object,iron,\n500000,5761000,1,0.5,treasure,gold,\n")),
        ("outcome without a radius", s => File.WriteAllText(s["outcomes.csv"], "easting,northing,radius_m,reached_depth_m,outcome,material,note\n500000,5761000,0,0.5,nothing,,\n")),
        ("outcome above the seabed", s => File.WriteAllText(s["outcomes.csv"], "easting,northing,radius_m,reached_depth_m,outcome,material,note\n500000,5761000,1,-0.5,nothing,,\n")),
        ("only what can't be read", s => { File.Delete(s[File1]); File.Delete(s[File2]); File.Create(s[File1]).Dispose(); Directory.CreateDirectory(s["b.sgy"]); File.CreateSymbolicLink(s["c.sgy"], s["nowhere"]); }),
    ];

    private sealed class Envelope(MemoryLine line) : ISurveyLine
    {
        public string Name => line.Name;
        public int PingCount => line.PingCount;
        public int SampleCount => line.SampleCount;
        public double SampleInterval => line.SampleInterval;
        public bool IsCorrelated => true;
        public ReadOnlyMemory<float>? Replica => null;
        public Ping PingAt(int pingIndex) => line.PingAt(pingIndex);

        public void Read(int pingIndex, Span<float> samples)
        {
            for (int k = 0; k < SmallSurvey.Receivers * SampleCount; k++)
                samples[k] = 0.1f + 3 * MathF.Exp(-0.01f * MathF.Pow(k % SampleCount - 60, 2)) + 0.05f * MathF.Abs(MathF.Sin(k * 7.7f));
        }
    }

    [Fact]
    public void Each_fault_has_its_sentence()
    {
        var page = new StringBuilder();
        foreach ((string name, Action<SmallSurvey> spoil) in Faults)
        {
            using var survey = new SmallSurvey();
            spoil(survey);
            string message = Refusal(survey).Replace(survey.Path, "FOLDER", StringComparison.Ordinal);
            Assert.DoesNotContain('\n', message);
            page.Append(name).Append('\n').Append("  ").Append(message).Append("\n\n");
        }
        Page.Is("Storage/Surveys/BadInput", page.ToString());
    }

    private static string Refusal(SmallSurvey survey)
    {
        try
        {
            using SurveyFolder folder = survey.Open();
            foreach (ISurveyLine line in folder.Lines)
            {
                float[] samples = new float[line.SampleCount * line.PingAt(0).Receivers.Count];
                for (int i = 0; i < line.PingCount; i++)
                    line.Read(i, samples);
            }
            return "NOT REFUSED";
        }
        catch (SurveyException refusal)
        {
            return refusal.Message;
        }
    }
}
