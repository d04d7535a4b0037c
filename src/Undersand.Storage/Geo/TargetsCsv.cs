using System.Text;
using Undersand.Positioning;

namespace Undersand.Storage.Geo;

/// <summary>Writes the targets as comma-separated values (RFC 4180) in UTF-8, most probable first: the properties of the GeoJSON file, then longitude and latitude.</summary>
/// <remarks>
/// <c>material_probabilities</c> is the same JSON object as in GeoJSON, in one cell; notes are joined by a semicolon. What is not known is an empty cell.
/// A text that a spreadsheet would take for a formula gets an apostrophe in front.
/// </remarks>
public static class TargetsCsv
{
    /// <summary>Writes the file.</summary>
    /// <param name="path">The file, replaced if it exists.</param>
    /// <param name="result">Whose targets.</param>
    /// <exception cref="SurveyException">The place can't be written to.</exception>
    public static void Write(string path, SurveyResult result)
    {
        ProjectedCrs crs = ProjectedCrs.Of(result.Survey);
        var text = new StringBuilder();
        text.AppendJoin(',', TargetField.All.Select(f => f.Name)).Append(",longitude_deg,latitude_deg\r\n");
        foreach (Target target in TargetField.Ordered(result.Targets))
        {
            GeoPoint place = crs.ToGeo(target.Position);
            text.AppendJoin(',', TargetField.All.Select(f => Cell(f.Kind, f.Value(target))));
            text.Append($",{ResultNumber.Fixed(place.Longitude, 9)},{ResultNumber.Fixed(place.Latitude, 9)}\r\n");
        }

        WholeFile.WriteText(path, text.ToString());
    }

    private static string Cell(FieldKind kind, string? value) => kind switch
    {
        _ when value is null => "",
        FieldKind.Text => CsvText.Quoted(CsvText.Harmless(value)),
        FieldKind.Sentences => CsvText.Quoted(CsvText.Harmless(value.Replace("\n", "; "))),
        _ => CsvText.Quoted(value),
    };
}
