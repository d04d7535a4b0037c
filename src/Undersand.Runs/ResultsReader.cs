using Undersand.Storage.GeoPackage;
using Undersand.Storage.GeoTiff;

namespace Undersand.Runs;

/// <summary>Reads from a results folder what a report needs. What no file keeps (the survey's own noise, pictures of targets, some of the water and the sediment) is missing.</summary>
internal static class ResultsReader
{
    public static SurveyResult Read(string results, SurveyContents contents)
    {
        RunRecord record = RunRecord.OfFinished(results);
        IReadOnlyDictionary<string, double> facts = SurveyGeoPackageReader.Facts(Path.Combine(results, "survey.gpkg"));
        double Fact(string name) => facts.GetValueOrDefault(name, double.NaN);
        Raster seabed = Map("seabed"), probability = Map("probability");
        return new SurveyResult
        {
            Survey = new Survey
            {
                Name = record.SurveyName,
                Epsg = contents.Epsg,
                Water = new Water(Fact("water_sound_speed_m_s")),
                Sediment = new Sediment(Fact("sediment_sound_speed_m_s"), double.NaN, double.NaN),
                Image = new ImageSettings(Fact("max_burial_m"), Fact("voxel_m")),
                Prior = new Prior(Fact("objects_per_hectare"), Fact("smallest_object_m")),
            },
            Lines = contents.Lines,
            Grid = new VoxelGrid(probability.OriginEasting, probability.OriginNorthing, probability.Spacing, probability.CountX, probability.CountY, 1, 0),
            Targets = contents.Targets,
            Views = [],
            Seabed = seabed,
            GreatestProbability = probability,
            BurialOfGreatest = Map("burial_of_greatest"),
            CouldHaveSeen = Map("could_have_seen"),
            ReferenceDiameter = Fact("reference_sphere_diameter_m"),
            NullTails = [],
            CellVolume = Fact("resolution_cell_m3"),
            NewestPing = record.NewestPing!.Value,
            Magnetics = contents.Magnetics,
            Outcomes = contents.Outcomes,
            Cautions = contents.Cautions,
            Steps = record.Steps,
        };

        Raster Map(string name) => GeoTiffMap.Open(Path.Combine(results, "maps", name + ".tif")).ReadWhole();
    }
}
