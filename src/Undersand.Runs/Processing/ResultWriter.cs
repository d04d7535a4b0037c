using Undersand.Positioning;
using Undersand.Runs.Reporting;
using Undersand.Storage;
using Undersand.Storage.Geo;
using Undersand.Storage.GeoPackage;
using Undersand.Storage.GeoTiff;

namespace Undersand.Runs.Processing;

/// <summary>Writes the open files and the report, each whole or not at all.</summary>
internal static class ResultWriter
{
    public static void Write(ResultsFolder folder, SurveyResult result, ProjectedCrs crs, IProgressSink progress)
    {
        progress.Begin("Writing files and report", 9, "files");
        TargetsGeoJson.Write(folder.TargetsGeoJson, result);
        progress.Advance();
        TargetsCsv.Write(folder.TargetsCsv, result);
        progress.Advance();
        WholeFile.MakeFolder(folder.Maps);
        Map("probability", result.GreatestProbability, "Greatest probability in each column that a compact body lies there, not calibrated", "", OverviewRule.Greatest);
        Map("burial_of_greatest", result.BurialOfGreatest, "Burial at which the probability is greatest", "m", OverviewRule.Mean);
        Map("seabed", result.Seabed, "Depth of the seabed below the water surface, smoothed over 0.5 m", "m", OverviewRule.Mean);
        Map("could_have_seen", result.CouldHaveSeen, $"Deepest burial at which a rigid sphere of {result.ReferenceDiameter} m diameter would have been more probable than not; 0 none; no data: not surveyed", "m", OverviewRule.Mean);
        SurveyGeoPackage.Write(folder.GeoPackage, result);
        progress.Advance();
        WholeFile.Write(folder.ReportHtml, html => WholeFile.Write(folder.ReportPdf, pdf => Report.Write(result, html, pdf)));
        progress.Advance(2);

        void Map(string name, Raster raster, string description, string unit, OverviewRule rule)
        {
            GeoTiffWriter.WriteCloudOptimised(Path.Combine(folder.Maps, name + ".tif"), raster, crs, description, unit, rule);
            progress.Advance();
        }
    }
}
