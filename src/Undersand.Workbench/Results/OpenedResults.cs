using NodaTime;
using Undersand.Positioning;
using Undersand.Runs;
using Undersand.Storage.GeoPackage;
using Undersand.Storage.GeoTiff;
using Undersand.Storage.Zarr;

namespace Undersand.Workbench.Results;

/// <summary>A results folder, opened for looking at: read only, but for the judgements.</summary>
internal sealed class OpenedResults
{
    private OpenedResults(string folder, RunRecord record, SurveyContents contents, ProjectedCrs crs, ZarrVolume volume, IReadOnlyDictionary<string, GeoTiffMap> maps, JudgementsGeoPackage judgements)
        => (Folder, Record, Contents, Crs, Volume, Maps, Judgements) = (folder, record, contents, crs, volume, maps, judgements);

    public string Folder { get; }

    public RunRecord Record { get; }

    public SurveyContents Contents { get; }

    public ProjectedCrs Crs { get; }

    public ZarrVolume Volume { get; }

    /// <summary>By the names of their files: <c>seabed</c>, <c>probability</c>, <c>burial_of_greatest</c>, <c>could_have_seen</c>.</summary>
    public IReadOnlyDictionary<string, GeoTiffMap> Maps { get; }

    public JudgementsGeoPackage Judgements { get; }

    /// <summary>The targets, most probable first.</summary>
    public IReadOnlyList<Target> Targets => Contents.Targets;

    public string Name => Record.SurveyName;

    /// <summary>Another one for each run: part of the addresses of pictures.</summary>
    public string Version => $"{Record.Code}-{Record.Timings?.Started.ToUnixTimeMilliseconds():x}";

    public Instant? NewestPing => Record.NewestPing;

    /// <summary>Where a target stands in the list of the report, from 1.</summary>
    public int NumberOf(string id) => 1 + Targets.Index().First(t => t.Item.Id == id).Index;

    /// <summary>The same in words; null where it isn't listed.</summary>
    public string? NumberIfListed(string id) => Targets.Any(t => t.Id == id) ? $"{NumberOf(id)}" : null;

    /// <summary>How far a target may lie from a judgement without one to be offered to it, metres.</summary>
    public const double Near = 2;

    /// <summary>The newest saying about each target that is no longer listed, with the only target within <see cref="Near"/>; null where there is none, or more than one.</summary>
    public IReadOnlyList<(Saying Said, Target? Near)> Orphans()
    {
        var orphans = new List<(Saying, Target?)>();
        foreach (var gone in Judgements.Judged.Gone(Targets).GroupBy(s => s.TargetId))
        {
            Saying said = gone.LastOrDefault(s => s is Judgement) ?? gone.Last();
            Target[] near = [.. Targets.Where(t => t.Position.HorizontalDistanceTo(said.Place) <= Near)];
            orphans.Add((said, near.Length == 1 ? near[0] : null));
        }
        return orphans;
    }

    /// <summary>Opens a folder.</summary>
    /// <param name="named">The folder.</param>
    /// <param name="judgements">What people judge in meanwhile, where these results were shown before.</param>
    /// <exception cref="SurveyException">The folder holds no finished results; the sentence says what to do instead.</exception>
    public static OpenedResults Open(string named, JudgementsGeoPackage? judgements = null)
    {
        string folder = ResultsPlace.Find(named);
        string At(params string[] names) => Path.Combine([folder, .. names]);
        RunRecord record = RunRecord.OfFinished(folder, named);
        SurveyContents contents = SurveyGeoPackageReader.Read(At("survey.gpkg"));
        ProjectedCrs crs = ProjectedCrs.FromEpsg(contents.Epsg, At("survey.gpkg"));
        string[] maps = ["seabed", "probability", "burial_of_greatest", "could_have_seen"];
        return new OpenedResults(folder, record, contents, crs, ZarrVolume.Open(At("volume.zarr")), maps.ToDictionary(m => m, m => GeoTiffMap.Open(At("maps", m + ".tif"))),
            judgements ?? JudgementsGeoPackage.Open(At("judgements.gpkg"), crs));
    }
}
