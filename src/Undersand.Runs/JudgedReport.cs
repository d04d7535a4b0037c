using System.Text;
using System.Text.RegularExpressions;
using Undersand.Positioning;
using Undersand.Runs.Reporting;
using Undersand.Storage;
using Undersand.Storage.GeoPackage;
using Undersand.Storage.GeoTiff;

namespace Undersand.Runs;

/// <summary>The report with people's judgements in it, or its public version, made from a results folder; nothing there is changed.</summary>
public sealed class JudgedReport
{
    private readonly SurveyResult _result;
    private readonly ReportDocument _document;
    private readonly PositionSearch? _withheld;
    private readonly string _typed = "";
    private readonly string[] _names = [];

    private JudgedReport(string results, SurveyContents contents, ProjectedCrs crs, JudgedSurvey judged, bool isPublic)
    {
        var photographs = new PhotographFolder(results);
        _result = ResultsReader.Read(results, contents);
        if (!isPublic)
        {
            _document = JudgedContents.Compose(_result, judged, file => photographs.Read(file) is { } bytes ? PictureOf(bytes) : null);
            return;
        }
        _withheld = new PositionSearch(Places(_result, judged), crs.ToGeo);
        _typed = judged.PublicWords is { } words ? words.Title + "\n" + words.Contact : "";
        _names = [.. Names(_result, crs)];
        _document = PublicPages.Compose(_result, judged, file => photographs.Read(file) is { } bytes ? PictureOf(Bare(bytes)) : null);
    }

    /// <summary>Reads what the report is made of.</summary>
    /// <param name="results">The folder that holds <c>run.json</c>.</param>
    /// <param name="isPublic">Whether positions are withheld.</param>
    /// <param name="judged">What people said; null reads <c>judgements.gpkg</c>.</param>
    /// <exception cref="SurveyException">The folder holds no such results, or a position stands in the public version's own words.</exception>
    public static JudgedReport Of(string results, bool isPublic, JudgedSurvey? judged = null)
    {
        SurveyContents contents = SurveyGeoPackageReader.Read(Path.Combine(results, "survey.gpkg"));
        ProjectedCrs crs = ProjectedCrs.FromEpsg(contents.Epsg, Path.Combine(results, "survey.gpkg"));
        return new JudgedReport(results, contents, crs, judged ?? JudgementsGeoPackage.Open(Path.Combine(results, "judgements.gpkg"), crs).Judged, isPublic);
    }

    /// <summary>Writes it as one self-contained page.</summary>
    /// <exception cref="SurveyException">A position would have stood in the public version.</exception>
    public void WriteHtml(Stream stream) => stream.Write(Encoding.UTF8.GetBytes(Html()));

    /// <summary>Writes it as a PDF of A4 pages.</summary>
    /// <exception cref="SurveyException">A position would have stood in the public version.</exception>
    public void WritePdf(Stream stream)
    {
        // Both say the same, so what the page may not hold the paper may not either.
        _ = Html();
        PdfWriter.Write(_document, stream);
    }

    /// <summary>All positions that the public version withholds.</summary>
    internal static IEnumerable<GridPoint> Places(SurveyResult result, JudgedSurvey judged) =>
    [
        .. result.Targets.Select(t => t.Position), .. result.Targets.Select(t => t.Alternative).OfType<GridPoint>(), .. result.Lines.SelectMany(l => l.Pings).Select(p => p.Source),
        .. judged.All<Saying>().Where(s => s.TargetId.Length > 0).Select(s => s.Place), .. judged.All<HandOutline>().SelectMany(o => o.Corners), .. judged.All<Partition>().SelectMany(p => p.Parts),
        .. result.Outcomes.Select(o => o.Place), .. result.Magnetics.Select(m => m.Reading.Position),
        .. Corners(result.GreatestProbability), .. Corners(result.Seabed),
    ];

    /// <summary>All names that the public version withholds.</summary>
    internal static IEnumerable<string> Names(SurveyResult result, ProjectedCrs crs) =>
    [
        result.Survey.Name, "EPSG", $"{crs.Epsg}", crs.Name, .. result.Targets.Select(t => t.Id), .. result.Lines.Select(l => l.Name),
        // A line's number alone is no name.
        .. result.Lines.Select(l => Path.GetFileNameWithoutExtension(l.Name)).Where(n => n.Any(char.IsLetter)),
    ];

    private static GridPoint[] Corners(Raster map)
    {
        double west = map.OriginEasting - map.Spacing / 2, south = map.OriginNorthing - map.Spacing / 2;
        return [new(map.OriginEasting, map.OriginNorthing, 0), new(west, south, 0), new(west + map.CountX * map.Spacing, south + map.CountY * map.Spacing, 0)];
    }

    private string Html()
    {
        string page = HtmlWriter.Write(_document);
        if (_withheld?.Find(WithoutPictures(page)) is { } found)
            throw new SurveyException("public version", null, $"a position of the survey stands in it: “{found}”", "take it out of the public version's title or contact");
        if (_withheld?.FindNear(_typed) is { } near)
            throw new SurveyException("public version", null, $"a position near the survey stands in it: “{near}”", "take it out of the public version's title or contact");
        if (_names.FirstOrDefault(n => IsNamed(n, _typed)) is { } name)
            throw new SurveyException("public version", null, $"a name that tells which survey it is, or where, stands in it: “{name}”", "take it out of the public version's title or contact");
        return page;
    }

    /// <summary>Whether a name stands in words by itself, with or without its hyphens, in capitals or not.</summary>
    internal static bool IsNamed(string name, string words) => name.Trim().Length > 0
        && Regex.IsMatch(words, @"(?<![\p{L}\d])" + Regex.Escape(name.Trim()).Replace("-", @"[-‐–\s]*") + @"(?![\p{L}\d])", RegexOptions.IgnoreCase | RegexOptions.CultureInvariant);

    // Fonts and pictures are letters by chance; pictures were freed of their origin before.
    private static string WithoutPictures(string page) => Regex.Replace(page, @"base64,[A-Za-z0-9+/=]+", "");

    // Null where its size can't be read.
    private static Picture? PictureOf(byte[]? bytes)
    {
        if (bytes is null || PictureFile.Kind(bytes) is not { } kind || PictureFile.Size(bytes) is not var (width, height))
            return null;
        // Readers differ in whether they turn it, so the report does.
        (int turn, byte[] plain) = PictureFile.Unturned(bytes);
        return new Picture(plain, kind.MediaType, width, height, new Turn(turn));
    }

    private static byte[]? Bare(byte[] picture)
    {
        try
        {
            return PictureFile.WithoutOrigin(picture);
        }
        catch (InvalidDataException)
        {
            return null;
        }
    }
}
