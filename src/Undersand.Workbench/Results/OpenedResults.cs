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
    {
        (Folder, Record, Contents, Crs, Volume, Maps, Judgements) = (folder, record, contents, crs, volume, maps, judgements);
        Targets = [.. contents.Targets.Select(t => t with { Position = t.Position with { Depth = maps["seabed"].ValueAt(t.Position.Easting, t.Position.Northing) + t.BurialDepth.Value } })];
    }

    public string Folder { get; }

    public RunRecord Record { get; }

    public SurveyContents Contents { get; }

    public ProjectedCrs Crs { get; }

    public ZarrVolume Volume { get; }

    /// <summary>By the names of their files: <c>seabed</c>, <c>probability</c>, <c>burial_of_greatest</c>, <c>could_have_seen</c>.</summary>
    public IReadOnlyDictionary<string, GeoTiffMap> Maps { get; }

    public JudgementsGeoPackage Judgements { get; }

    /// <summary>The targets, most probable first, with the depths of their tops.</summary>
    public IReadOnlyList<Target> Targets { get; }

    public string Name => Record.SurveyName;

    /// <summary>Another one for each run: part of the addresses of pictures.</summary>
    public string Version => $"{Record.Code}-{Record.Timings?.Started.ToUnixTimeMilliseconds():x}";

    public Instant? NewestPing => Record.NewestPing;

    /// <summary>Where a target stands in the list of the report, from 1.</summary>
    public int NumberOf(string id) => 1 + Targets.Index().First(t => t.Item.Id == id).Index;

    /// <summary>Judgements whose target is no longer listed, with the nearest target within two metres, if any.</summary>
    public IReadOnlyList<(Judgement Judgement, Target? Near)> Orphans() =>
        [.. Judgements.Current.Values.Where(j => Targets.All(t => t.Id != j.TargetId))
            .Select(j => (j, Targets.Where(t => t.Position.HorizontalDistanceTo(j.Place) <= 2).MinBy(t => t.Position.HorizontalDistanceTo(j.Place))))];

    /// <summary>Opens a folder.</summary>
    /// <param name="named">The folder.</param>
    /// <param name="judgements">What people judge in meanwhile, where these results were shown before.</param>
    /// <exception cref="SurveyException">The folder holds no finished results; the sentence says what to do instead.</exception>
    public static OpenedResults Open(string named, JudgementsGeoPackage? judgements = null)
    {
        string folder = ResultsPlace.Find(named);
        string At(params string[] names) => Path.Combine([folder, .. names]);
        RunRecord record = RunRecord.TryRead(At("run.json")) is { Finished: true } finished ? finished
            : throw new SurveyException(named, null, "these results are not finished", "give the same undersand process command again, it takes up where it stopped");
        SurveyContents contents = SurveyGeoPackageReader.Read(At("survey.gpkg"));
        if (!ProjectedCrs.TryFromEpsg(contents.Epsg, out ProjectedCrs? crs))
            throw new SurveyException(At("survey.gpkg"), null, $"EPSG:{contents.Epsg} is not known", $"use one of {ProjectedCrs.Known}");
        string[] maps = ["seabed", "probability", "burial_of_greatest", "could_have_seen"];
        return new OpenedResults(folder, record, contents, crs, ZarrVolume.Open(At("volume.zarr")), maps.ToDictionary(m => m, m => GeoTiffMap.Open(At("maps", m + ".tif"))),
            judgements ?? JudgementsGeoPackage.Open(At("judgements.gpkg"), crs));
    }
}
