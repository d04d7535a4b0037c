using System.Buffers.Binary;
using Undersand.Positioning;
using Undersand.Simulation;
using Undersand.Storage.SegY;
using Undersand.Storage.Surveys;

namespace Undersand.Runs.Tests.Runs.EndToEnd;

/// <summary>Surveys that can't be processed, each spoilt in one way.</summary>
internal static class BadSurvey
{
    private const int Headers = 3600, TraceHeader = 240;

    private static SimulatedSurvey Good => SmallSurvey.OneLine;

    private static int TraceBytes => TraceHeader + 4 * Good.Lines[0].SampleCount;

    /// <summary>What is wrong, and how to make it so in a folder that holds a good survey with header positions.</summary>
    public static IReadOnlyList<(string Name, Action<string> Spoil)> All { get; } =
    [
        ("an empty folder", folder => { foreach (string file in Directory.GetFiles(folder)) File.Delete(file); }),
        ("recordings that are empty, a folder, a broken link", folder =>
        {
            File.Delete(Line(folder));
            File.WriteAllText(Path.Combine(folder, "empty.sgy"), "");
            Directory.CreateDirectory(Path.Combine(folder, "folder.sgy"));
            File.CreateSymbolicLink(Path.Combine(folder, "link.sgy"), "nowhere");
        }),
        ("no survey.json", folder => File.Delete(Path.Combine(folder, "survey.json"))),
        ("survey.json that is no JSON", folder => File.WriteAllText(Path.Combine(folder, "survey.json"), "{\n  \"crs\": \"EPSG:32631\",\n  \"name\" \"x\"\n}\n")),
        ("no crs", folder => Replace(folder, "\"crs\": \"EPSG:32631\",", "")),
        ("an unknown EPSG", folder => Replace(folder, "EPSG:32631", "EPSG:99999")),
        ("a geographic EPSG", folder => Replace(folder, "EPSG:32631", "EPSG:4326")),
        ("a voxel of zero", folder => Replace(folder, "\"voxel_m\": 0.07", "\"voxel_m\": 0")),
        ("a truncated file", folder => Cut(folder, Headers + 7 * TraceBytes + 500)),
        ("a file cut within its headers", folder => Cut(folder, 3000)),
        ("a file of zeros", folder => File.WriteAllBytes(Line(folder), new byte[60_000])),
        ("headers without a sample that isn't zero", folder => Edit(folder, bytes =>
        {
            for (int trace = Headers; trace < bytes.Length; trace += TraceBytes)
                bytes.AsSpan(trace + TraceHeader, TraceBytes - TraceHeader).Clear();
        })),
        ("text renamed .sgy", folder => File.WriteAllText(Line(folder), string.Concat(Enumerable.Repeat("Field notes of the fourth of May: wind south-west, sea calm, all lines run.\n", 400)))),
        ("a sample count that doesn't fit", folder => Edit(folder, bytes =>
        {
            BinaryPrimitives.WriteInt16BigEndian(bytes.AsSpan(3220), 9000);
            for (int trace = Headers; trace < bytes.Length; trace += TraceBytes)
                BinaryPrimitives.WriteInt16BigEndian(bytes.AsSpan(trace + 114), 9000);
        })),
        ("a sample that is not a number", folder => Edit(folder, bytes => BinaryPrimitives.WriteSingleBigEndian(bytes.AsSpan(Headers + 40 * TraceBytes + TraceHeader + 400), float.NaN))),
        ("a sample that is infinite", folder => Edit(folder, bytes => BinaryPrimitives.WriteSingleBigEndian(bytes.AsSpan(Headers + 33 * TraceBytes + TraceHeader + 4), float.PositiveInfinity))),
        ("coordinates all zero", folder => Edit(folder, bytes =>
        {
            for (int trace = Headers; trace < bytes.Length; trace += TraceBytes)
                bytes.AsSpan(trace + 72, 16).Clear();
        })),
        ("receivers under the seabed", folder => WriteChanged(folder, line => new ChangedLine(line)
        {
            ChangePing = p => p with { Receivers = [.. p.Receivers.Select(r => r with { Position = r.Position with { Depth = r.Position.Depth + 2.5 } })] },
        })),
        ("one receiver far under the seabed", folder => WriteChanged(folder, line => new ChangedLine(line)
        {
            ChangePing = p => p with { Receivers = [.. p.Receivers.Select(r => r.Number == 4 ? r with { Position = r.Position with { Depth = 50 } } : r)] },
        })),
        ("no seabed", folder => WriteChanged(folder, line => new ChangedLine(line) { ChangeSamples = Noise })),
        ("a waveform outside Nyquist", folder => Replace(folder, "\"end_hz\": 18000", "\"end_hz\": 28000")),
        ("a waveform missing everywhere", folder => WriteWithoutWaveform(folder)),
        ("an envelope", folder => WriteChanged(folder, line => new ChangedLine(line) { ChangeSamples = (raw, _) => [.. raw.Select(Math.Abs)] })),
        ("navigation that doesn't cover", folder =>
        {
            SmallSurvey.Write(folder, Good);
            SurveyFolderWriter.WriteNavigation(folder, SmallSurvey.Fixes(Good).Take(20));
        }),
        ("navigation that goes backwards", folder =>
        {
            SmallSurvey.Write(folder, Good);
            NavigationFix[] fixes = [.. SmallSurvey.Fixes(Good)];
            SurveyFolderWriter.WriteNavigation(folder, [.. fixes.Take(10), .. fixes.Skip(5)]);
        }),
        ("pings' times that go backwards", folder =>
        {
            SurveyFolderWriter.WritePings(folder, [new ChangedLine(Good.Lines[0]) { ChangePing = p => p with { Time = p.Number == 12 ? p.Time - NodaTime.Duration.FromSeconds(0.5) : p.Time } }]);
        }),
        ("headers' times that go backwards", folder => WriteChanged(folder, line => new ChangedLine(line) { ChangePing = p => p.Number < 20 ? p : p with { Time = p.Time - NodaTime.Duration.FromSeconds(40) } })),
        ("two surveys mixed", folder => SurveyFolderWriter.WriteRecording(folder, new ChangedLine(Good.Lines[0])
        {
            Name = "line-09.sgy",
            ChangePing = p => p with { Source = Away(p.Source), Receivers = [.. p.Receivers.Select(r => r with { Position = Away(r.Position) })] },
        }, Good.Survey.Waveform)),
        ("a voxel that needs more memory than there is", folder => Replace(folder, "\"voxel_m\": 0.07", "\"voxel_m\": 0.001")),
        ("an array of too few receivers", folder =>
        {
            SmallSurvey.Write(folder, Good);
            SurveyFolderWriter.WriteArray(folder, SmallSurvey.Array(3));
        }),
    ];

    /// <summary>Makes one.</summary>
    public static string Make(string name, string folder)
    {
        SmallSurvey.WriteWithHeaderPositions(folder, Good);
        All.Single(b => b.Name == name).Spoil(folder);
        return folder;
    }

    private static string Line(string folder) => Path.Combine(folder, "line-01.sgy");

    private static GridPoint Away(GridPoint p) => p with { Easting = p.Easting + 4200 };

    private static float[] Noise(float[] raw, Ping ping)
    {
        var random = new Random(ping.Number);
        return [.. raw.Select(_ => random.NextSingle() - 0.5f)];
    }

    private static void WriteChanged(string folder, Func<ISurveyLine, ISurveyLine> change) =>
        SurveyFolderWriter.WriteRecording(folder, change(Good.Lines[0]), Good.Survey.Waveform);

    private static void WriteWithoutWaveform(string folder)
    {
        SurveyFolderWriter.WriteSurvey(folder, Good.Survey with { Waveform = null });
        SurveyFolderWriter.WriteRecording(folder, Good.Lines[0], null);
    }

    private static void Replace(string folder, string old, string with)
    {
        string path = Path.Combine(folder, "survey.json"), text = File.ReadAllText(path);
        Assert.Contains(old, text, StringComparison.Ordinal);
        File.WriteAllText(path, text.Replace(old, with, StringComparison.Ordinal));
    }

    private static void Cut(string folder, int length)
    {
        using FileStream stream = File.OpenWrite(Line(folder));
        stream.SetLength(length);
    }

    private static void Edit(string folder, Action<byte[]> edit)
    {
        byte[] bytes = File.ReadAllBytes(Line(folder));
        edit(bytes);
        File.WriteAllBytes(Line(folder), bytes);
    }
}
