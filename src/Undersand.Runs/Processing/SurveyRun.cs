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
    private const int MostViews = 12;
    private readonly ProcessRequest _request;
    private readonly ResultsFolder _results;
    private readonly IProgressSink _progress;
    private readonly CancellationToken _cancellation;
    private readonly ParallelOptions _parallel;
    private readonly RunJournal _journal = new();
    private readonly List<Caution> _cautions = [];
    private readonly RunSettings _settings;
    private readonly Parallelism _threads;
    private readonly RunMemory _memory;

    public SurveyRun(ProcessRequest request, ResultsFolder results, RunMemory memory, IProgressSink progress, CancellationToken cancellation)
    {
        (_request, _results, _memory, _progress, _cancellation) = (request, results, memory, progress, cancellation);
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

        var scanning = new ScanRun(new LineScanner(survey, _settings.Imaging.Conditioning, _parallel), new RunPrints(survey, _settings, inputs, byHand), _memory, _progress);
        var scans = _journal.Step("scan the lines", _settings.Scanning, () => scanning.Run(folder.Lines, byHand));
        _cautions.AddRange(scanning.Cautions);
        var imager = _journal.Step("settle the seabed", RunSettings.Seabed, () => new SurveyImager(survey, scans, _settings.Imaging, _parallel));
        RequireRoom(survey, imager);
        NoteFarRows("magnetometer.csv", folder.Magnetometer.Select(m => (m.Position.Easting, m.Position.Northing)), imager.Grid);
        NoteFarRows("outcomes.csv", folder.Outcomes.Select(o => (o.Easting, o.Northing)), imager.Grid);
        WholeFile.Guard(_results.Sums, () => File.Delete(_results.Sums));
        Record(survey, inputs, null, finished: false).Write(_results.Record);

        var crs = ProjectedCrs.Of(survey);
        var volume = ZarrVolume.Create(_results.Volume, imager.Grid, imager.Looks, crs, survey.Name);
        var tiles = new TileRun(volume, imager, scanning.Lines, _threads, _progress, _cancellation) { MostMoved = _request.LinesStillCome ? imager.Grid.Spacing / 4 : null };
        _journal.Step("sum the echoes", _settings.Summation, tiles.Run);
        if (tiles.Provisional > 0)
            _cautions.Add(new Caution("image", FormattableString.Invariant($"Imaged while lines still came: in these tiles, lines lie under the seabed as it was before the newest, up to {1000 * tiles.Moved:0.0} mm from where it is now. Processing the survey once more makes it good."), tiles.Provisional));

        var detector = new Detector(survey, volume, imager, _settings.Detection, new KnownEvidence(_memory.Evidence, tiles.PrintOf));
        var maps = new ResultMaps(imager, detector, volume, Reference(survey, imager), _threads, _progress, _cancellation);
        _journal.Step("weigh the evidence", _settings.Evidence, () => { maps.Learn(); maps.Make(); return 0; });
        _progress.Begin("Measuring targets", 100, "%");
        var targets = _journal.Step("measure the targets", _settings.Measuring, () => detector.Targets(earlier, new FractionProgress(_progress), _cancellation));
        var views = TargetViews.Cut(volume, targets.Take(MostViews), _threads, _progress, _cancellation);
        var result = new ResultAssembler(survey, scans, imager, detector, maps, views, Cautions(scans), _journal.Steps).Assemble(targets, RunSettings.ReferenceDiameter) with
        {
            Magnetics = MagneticResidual.Of(folder.Magnetometer),
            Outcomes = folder.Outcomes,
        };
        ResultWriter.Write(_results, result, crs, _progress);
        ResultSums.Write(_results, _threads, _progress, _cancellation);
        Record(survey, inputs, result, finished: true, tiles).Write(_results.Record);
        return result;
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

    /// <summary>Amplitude of the reference sphere: rigid, so that √σ = diameter / 4; in the recordings' unit by the seabed's own echo where nothing is calibrated.</summary>
    private static double Reference(Survey survey, SurveyImager imager)
    {
        double amplitude = RunSettings.ReferenceDiameter / 4;
        return survey.Calibration is not null ? amplitude : amplitude * imager.SourceLevelFromSeabed(survey);
    }

    private List<Caution> Cautions(IReadOnlyList<LineScan> scans) => [.. _cautions, .. scans.SelectMany(s => LineCautions.Of(s))];

    private RunRecord Record(Survey survey, IReadOnlyList<HashedInput> inputs, SurveyResult? result, bool finished, TileRun? tiles = null) => new()
    {
        SurveyName = survey.Name,
        Finished = finished,
        Provisional = tiles?.Provisional > 0,
        Inputs = inputs,
        Settings = _settings.All(survey),
        Engine = _settings.Engine,
        Assumptions = survey.Assumptions,
        Cautions = [.. survey.Cautions, .. result?.Cautions ?? []],
        Steps = result?.Steps ?? [],
        NewestPing = result?.NewestPing,
        Timings = _journal.Timings(_threads.Threads, tiles?.TakenOver ?? 0),
    };
}
