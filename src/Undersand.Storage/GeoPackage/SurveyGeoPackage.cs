using Undersand.Positioning;
using Undersand.Storage.Geo;

namespace Undersand.Storage.GeoPackage;

/// <summary>Writes what was computed as a GeoPackage (OGC, version 1.3) for any GIS: lines, pings, seabed, targets, their ellipses, coverage; magnetics and outcomes where given.</summary>
/// <remarks>
/// Written whole and never changed afterwards. The same result gives the same bytes: dates are the newest ping's, rows have a fixed order,
/// nothing is deleted while writing, and the file is not in write-ahead mode.
/// </remarks>
public static class SurveyGeoPackage
{
    /// <summary>Writes the file.</summary>
    /// <param name="path">The file, replaced if it exists.</param>
    /// <param name="result">What was found out.</param>
    /// <exception cref="SurveyException">The place can't be written to.</exception>
    public static void Write(string path, SurveyResult result)
    {
        ProjectedCrs crs = ProjectedCrs.Of(result.Survey);
        WholeFile.WriteThrough(path, unfinished =>
        {
            using (var file = new GeoPackageFile(unfinished, crs, GeoPackageSql.Time.Format(result.NewestPing)))
            {
                TrackLayers.AddTo(file, result);
                SeabedLayers.AddTo(file, result);
                TargetLayers.AddTo(file, result);
                GivenLayers.AddTo(file, result);
                AddNotes(file, result);
                file.Commit();
            }

            using var written = new FileStream(unfinished, FileMode.Open, FileAccess.ReadWrite);
            written.Flush(flushToDisk: true);
        });
    }

    private static void AddNotes(GeoPackageFile file, SurveyResult result)
    {
        file.AddAttributes(
            new("assumptions", "Values that were not given and had to be taken from somewhere.", [Column.Text("quantity", "what it is"), Column.Text("value", "the value taken"), Column.Text("source", "where it was taken from")]),
            result.Survey.Assumptions, a => [a.Quantity, a.Value, a.Source]);
        file.AddAttributes(
            new("cautions", "Flaws in the data, and what was done about them.", [Column.Text("place", "the file, line or place it concerns"), Column.Text("caution", "what is wrong"), Column.Integer("count", "how often it was met")]),
            result.Survey.Cautions.Concat(result.Cautions), c => [c.Where, c.Text, c.Count]);
        file.AddMetadata("https://schema.org/Dataset", "application/ld+json", SurveyMetadata.Document(result));
    }
}
