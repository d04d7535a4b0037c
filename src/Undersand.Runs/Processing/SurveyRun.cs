using Undersand.Detection;
using Undersand.Imaging;
using Undersand.Imaging.Conditioning;
using Undersand.Positioning;
using Undersand.Storage;
using Undersand.Storage.Surveys;
using Undersand.Storage.Zarr;

namespace Undersand.Runs.Processing;

/// <summary>One run of the whole job: the order of its steps, from a survey folder to the results.</summary>
internal sealed class SurveyRun
{
    private readonly ProcessRequest _request;
    private readonly ResultsFolder _results;
    private readonly IProgressSink _progress;
    private readonly CancellationToken _cancellation;
    private readonly ParallelOptions _parallel;
    private readonly RunJournal _journal = new();
    private readonly List<Caution> _cautions = [];
    private readonly RunSettings _settings;
    private readonly Parallelism _threads;

    public SurveyRun(ProcessRequest request, ResultsFolder results, IProgressSink progress, CancellationToken cancellation)
    {
        (_request, _results, _progress, _cancellation) = (request, results, progress, cancellation);
        _threads = new Parallelism(request.Threads);
        _parallel = new ParallelOptions { MaxDegreeOfParallelism = _threads.Threads, CancellationToken = cancellation };
        _settings = RunSettings.For(request, _threads.Threads);
    }

    /// <summary>Does it all; what it returns lies in the results folder by then.</summary>
    public SurveyResult Run()
    {
        using var folder = _journal.Step("read the survey", RunSettings.None, () => SurveyFolder.Open(_request.Survey, Formulas.OfScience, _request.Recordings, _cancellation));
        var survey = _settings.Override(folder.Survey);
        var byHand = SeabedByHand.Read(_results.Path);
        survey = survey with { Assumptions = [.. survey.Assumptions, .. byHand.Select(Laid)] };
        var inputs = HashedInput.Hash(folder.Inputs, _progress, _cancellation);
        _results.RefuseAnotherSurvey(inputs);
        var earlier = PreviousTargets.Read(_results.TargetsGeoJson);

        var scans = _journal.Step("scan the lines", _settings.Scanning, () => Scan(folder.Lines, survey, byHand));
        var imager = _journal.Step("settle the seabed", RunSettings.Seabed, () => new SurveyImager(survey, scans, _settings.Imaging, _parallel));
        RequireRoom(survey, imager);
        NoteFarRows("magnetometer.csv", folder.Magnetometer.Select(m => (m.Position.Easting, m.Position.Northing)), imager.Grid);
        NoteFarRows("outcomes.csv", folder.Outcomes.Select(o => (o.Easting, o.Northing)), imager.Grid);
        WholeFile.Guard(_results.Sums, () => File.Delete(_results.Sums));
        Record(survey, inputs, null, finished: false).Write(_results.Record);

        var crs = ProjectedCrs.Of(survey);
        var volume = ZarrVolume.Create(_results.Volume, imager.Grid, imager.Looks, crs, survey.Name);
        var tiles = new TileRun(volume, imager, Fingerprints(survey, inputs, scans, imager, byHand), _threads, _progress, _cancellation);
        _journal.Step("sum the echoes", _settings.Summation, tiles.Run);

        var detector = new Detector(survey, volume, imager, _settings.Detection);
        var maps = new ResultMaps(imager, detector, volume, Reference(survey, imager), _threads, _progress, _cancellation);
        _journal.Step("weigh the evidence", _settings.Evidence, () => { maps.Learn(); maps.Make(); return 0; });
        _progress.Begin("Measuring targets", 100, "%");
        var targets = _journal.Step("measure the targets", _settings.Measuring, () => detector.Targets(earlier, new FractionProgress(_progress), _cancellation));
        var result = new ResultAssembler(survey, scans, imager, detector, maps, volume, Cautions(scans), _journal.Steps).Assemble(targets, RunSettings.ReferenceDiameter) with
        {
            Magnetics = MagneticResidual.Of(folder.Magnetometer),
            Outcomes = folder.Outcomes,
        };
        ResultWriter.Write(_results, result, crs, _progress);
        ResultSums.Write(_results, _threads, _progress, _cancellation);
        Record(survey, inputs, result, finished: true, tiles.TakenOver).Write(_results.Record);
        return result;
    }

    private List<LineScan> Scan(IReadOnlyList<ISurveyLine> lines, Survey survey, IReadOnlyList<SeabedStretch> byHand)
    {
        var scanner = new LineScanner(survey, _settings.Imaging.Conditioning, _parallel);
        _progress.Begin("Scanning the lines", 2.0 * lines.Sum(l => l.PingCount), "pings");
        var scans = new List<LineScan>();
        SurveyException? lastFault = null;
        foreach (var line in lines)
        {
            try
            {
                scans.Add(scanner.Scan(line, n => _progress.Advance(n), byHand));
            }
            catch (SurveyException fault) when (fault.Place == LineScanner.NoSeabed)
            {
                // A line without a seabed can't be imaged; the others can.
                lastFault = fault;
                _cautions.Add(new Caution(line.Name, "No seabed was found on this line, so it was left out."));
            }
        }
        return scans.Count > 0 ? scans : throw lastFault!;
    }

    private static Assumption Laid(SeabedStretch s) => new("seabed", FormattableString.Invariant($"{s.FirstDepth:0.00} m to {s.LastDepth:0.00} m below the surface, {s.Line}, pings {s.FirstPing} to {s.LastPing}"),
        $"laid by hand by {s.Who}, {s.When:uuuu-MM-dd}: an echo within {FormattableString.Invariant($"{SeabedStretch.Reach}")} m of it decides, where there is one ({SeabedByHand.FileName})");

    // Places far from the survey are more likely swapped or in another reference system than meant.
    private void NoteFarRows(string file, IEnumerable<(double Easting, double Northing)> places, VoxelGrid grid)
    {
        const double Reach = 1000;
        int far = places.Count(p => p.Easting < grid.EastingAt(0) - Reach || p.Easting > grid.EastingAt(grid.CountX) + Reach || p.Northing < grid.NorthingAt(0) - Reach || p.Northing > grid.NorthingAt(grid.CountY) + Reach);
        if (far > 0)
            _cautions.Add(new Caution(file, "These rows lie more than 1 km from the lines; their eastings and northings may be swapped, or in another reference system.", far));
    }

    private void RequireRoom(Survey survey, SurveyImager imager)
    {
        var grid = imager.Grid;
        var size = new GridSize(grid.CountX * grid.Spacing, grid.CountY * grid.Spacing, survey.Image.MaxBurial, grid.Spacing);
        double seen = grid.Tiles().Sum(t => imager.LinesNear(t).Count()), all = (double)grid.TilesX * grid.TilesY;
        MemoryBudget.OfThisMachine(_results).Require(_request.Survey, size, imager.Looks.Count / Math.Max(1, imager.Looks.Select(l => l.Line).Distinct().Count()) * 8, seen * _settings.Imaging.Groups / all);
    }

    private Func<TileIndex, int, string> Fingerprints(Survey survey, IReadOnlyList<HashedInput> inputs, IReadOnlyList<LineScan> scans, SurveyImager imager, IReadOnlyList<SeabedStretch> byHand)
    {
        // A line's recording, where its pings were, and what was laid on it by hand. Tables that go on with every line count by what each line takes out of them.
        var hashes = inputs.ToDictionary(i => i.File, i => i.Sha256);
        string[] lines = [.. scans.Select(s => string.Join('\n', byHand.Where(b => b.Line == s.Reader.Line.Name).Select(b => b.ToString()).Prepend(WayOf(s.Reader.Line)).Prepend(hashes[s.Reader.Line.Name])))];
        string common = string.Join('\n', [CodeVersion.Code, _settings.Engine, (survey with { Assumptions = [], Cautions = [] }).ToString(), _settings.Imaging.ToString(), .. inputs.Where(i => i.ShapesVoxels && !i.IsRecording && !i.IsByPing).Select(i => i.Sha256)]);
        return (tile, line) => TileMark.Print(common, lines[line], imager.PlaceOf(tile, line));
    }

    private static string WayOf(ISurveyLine line) => TileMark.Print("", "", Enumerable.Range(0, line.PingCount).Select(line.PingAt).SelectMany(p =>
        (IEnumerable<double>)[p.Number, p.FirstSampleTime, p.Source.Easting, p.Source.Northing, p.Source.Depth, .. p.Receivers.SelectMany(r => new[] { r.Number, r.Position.Easting, r.Position.Northing, r.Position.Depth, r.Live ? 1 : 0 })]));

    /// <summary>Amplitude of the reference sphere: rigid, so that √σ = diameter / 4; in the recordings' unit by the seabed's own echo where nothing is calibrated.</summary>
    private static double Reference(Survey survey, SurveyImager imager)
    {
        double amplitude = RunSettings.ReferenceDiameter / 4;
        return survey.Calibration is not null ? amplitude : amplitude * imager.SourceLevelFromSeabed(survey);
    }

    private List<Caution> Cautions(IReadOnlyList<LineScan> scans) => [.. _cautions, .. scans.SelectMany(s => LineCautions.Of(s))];

    private RunRecord Record(Survey survey, IReadOnlyList<HashedInput> inputs, SurveyResult? result, bool finished, int takenOver = 0) => new()
    {
        SurveyName = survey.Name,
        Finished = finished,
        Inputs = inputs,
        Settings = _settings.All(survey),
        Engine = _settings.Engine,
        Assumptions = survey.Assumptions,
        Cautions = [.. survey.Cautions, .. result?.Cautions ?? []],
        Steps = result?.Steps ?? [],
        NewestPing = result?.NewestPing,
        Timings = _journal.Timings(_threads.Threads, takenOver),
    };
}
