using System.Runtime.InteropServices;
using System.Security.Cryptography;
using System.Text;
using Undersand.Storage.Surveys;

namespace Undersand.Runs.Processing;

/// <summary>Fingerprints of what a run makes: of all that it depends on, so that what an earlier run made is known as the same.</summary>
internal sealed class RunPrints
{
    private readonly string _common;
    private readonly Dictionary<string, string> _hashes;
    private readonly IReadOnlyList<SeabedStretch> _byHand;

    public RunPrints(Survey survey, RunSettings settings, IReadOnlyList<HashedInput> inputs, IReadOnlyList<SeabedStretch> byHand)
    {
        _common = string.Join('\n', [CodeVersion.Code, settings.Engine, (survey with { Assumptions = [], Cautions = [] }).ToString(), settings.Imaging.ToString(), .. inputs.Where(i => i.ShapesVoxels && !i.IsRecording && !i.IsByPing).Select(i => i.Sha256)]);
        (_hashes, _byHand) = (inputs.ToDictionary(i => i.File, i => i.Sha256), byHand);
    }

    /// <summary>Of a line: its recording, where its pings were, and what was laid on it by hand. Tables that go on with every line count by what each line takes out of them.</summary>
    public string Of(ISurveyLine line) => Of(string.Join('\n', [_common, _hashes[line.Name], .. _byHand.Where(b => b.Line == line.Name).Select(b => b.ToString())]), Way(line));

    /// <summary>Of something that is made from what one fingerprint stands for, and from numbers.</summary>
    public static string Of(string print, IEnumerable<double> numbers)
    {
        using var hash = IncrementalHash.CreateHash(HashAlgorithmName.SHA256);
        hash.AppendData(Encoding.UTF8.GetBytes(print + "\n"));
        hash.AppendData(MemoryMarshal.AsBytes<double>(numbers.ToArray()));
        return Convert.ToHexStringLower(hash.GetHashAndReset());
    }

    private static IEnumerable<double> Way(ISurveyLine line) => Enumerable.Range(0, line.PingCount).Select(line.PingAt).SelectMany(p =>
        (IEnumerable<double>)[p.Number, p.FirstSampleTime, p.Source.Easting, p.Source.Northing, p.Source.Depth, .. p.Receivers.SelectMany(r => new[] { r.Number, r.Position.Easting, r.Position.Northing, r.Position.Depth, r.Live ? 1 : 0 })]);
}
