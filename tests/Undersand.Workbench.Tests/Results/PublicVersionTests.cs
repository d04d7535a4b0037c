using System.IO.Compression;
using System.Text;
using System.Text.RegularExpressions;
using NodaTime;
using Undersand.Positioning;
using Undersand.Runs;
using Undersand.Runs.Reporting;
using Undersand.Runs.Tests.Support;
using Undersand.Storage;
using Undersand.Storage.GeoPackage;
using Undersand.Workbench.Results;
using Undersand.Workbench.Tests.Support;

namespace Undersand.Workbench.Tests.Results;

/// <summary>That the public version carries no position, searched in its bytes; and that the search would find one.</summary>
public class PublicVersionTests(SmallResults small)
{
    private static CancellationToken Stop => TestContext.Current.CancellationToken;

    [Fact]
    public async Task Neither_page_nor_paper_nor_link_holds_a_position_in_any_writing()
    {
        using TestFolder copy = small.Copy();
        OpenedResults results = Judged(copy);
        new SurveyRunner().Report(new ReportRequest(copy.Path, IsPublic: true, copy["out"]), new NoProgress(), Stop);
        await using RunningWorkbench workbench = await WorkbenchServer.StartAsync(new WorkbenchOptions(copy.Path));
        using var client = new HttpClient { BaseAddress = workbench.Address };
        byte[] page = File.ReadAllBytes(copy["out", "report-public.html"]), paper = File.ReadAllBytes(copy["out", "report-public.pdf"]);
        AssertWithheld(results, page);
        AssertWithheld(results, paper, OutsideReader.RunTool("pdftotext", "poppler-utils", "-layout", copy["out", "report-public.pdf"], "-"));
        AssertWithheld(results, await client.GetByteArrayAsync("/public", Stop));
        Assert.Contains("Public version: positions are withheld", Encoding.UTF8.GetString(page));
        Assert.Contains("data:image/jpeg", Encoding.UTF8.GetString(page));
        // Of finds their number, and of magnetics nothing.
        Assert.Contains("2 places were searched by people", Encoding.UTF8.GetString(page));
    }

    [Fact]
    public async Task The_public_link_leads_nowhere_else_and_asks_for_nothing()
    {
        string page = Regex.Replace(await small.Client.GetStringAsync("/public", Stop), "base64,[A-Za-z0-9+/=]+", "");
        Assert.All(Regex.Matches(page, @"\b(?:href|src|action)=""([^""]*)""|\burl\(([^)]*)\)").Select(m => m.Groups[1].Value + m.Groups[2].Value), link => Assert.True(link.StartsWith('#') || link.StartsWith("data:", StringComparison.Ordinal), link));
        Assert.DoesNotContain("<script", page);
        Assert.DoesNotContain("<form", page);
    }

    [Fact]
    public void The_report_for_those_entitled_holds_positions_judgements_and_photographs_and_the_search_finds_them_there()
    {
        using TestFolder copy = small.Copy();
        OpenedResults results = Judged(copy);
        byte[] before = File.ReadAllBytes(copy["report.html"]);
        new SurveyRunner().Report(new ReportRequest(copy.Path, IsPublic: false, null), new NoProgress(), Stop);
        string page = File.ReadAllText(copy["report-judged.html"]);
        foreach (string said in new[] { "accepted", "Ada", "1.4 × 0.5 × ? m", "by probe", "outline 1.00 m²", "a pot beside the anchor", "What people make of it", "Magnetics and finds", "object (iron)", "nT above the running median" })
            Assert.Contains(said, page);
        Assert.Equal(before, File.ReadAllBytes(copy["report.html"]));
        Assert.Throws<Xunit.Sdk.TrueException>(() => AssertWithheld(results, File.ReadAllBytes(copy["report-judged.html"])));
        Assert.Contains("No syntax or stream encoding errors found", OutsideReader.RunTool("qpdf", "qpdf", "--check", copy["report-judged.pdf"]));
    }

    [Fact]
    public void A_position_in_the_public_versions_own_words_is_refused()
    {
        using TestFolder copy = small.Copy();
        OpenedResults results = Judged(copy);
        new JudgementDesk(Shelves.Open(copy.Path)).SetPublicWords("", FormattableString.Invariant($"near {results.Targets[0].Position.Easting:0}"), "Ada");
        Assert.Contains("a position of the survey stands in it", Assert.Throws<SurveyException>(() => new SurveyRunner().Report(new ReportRequest(copy.Path, IsPublic: true, copy["out"]), new NoProgress(), Stop)).Message);
        Assert.False(File.Exists(copy["out", "report-public.html"]));
    }

    [Fact]
    public void A_name_in_the_public_versions_own_words_is_refused()
    {
        using TestFolder copy = small.Copy();
        OpenedResults results = Judged(copy);
        var desk = new JudgementDesk(Shelves.Open(copy.Path));
        foreach (string name in new[] { results.Targets[0].Id, results.Targets[0].Id.ToLowerInvariant().Replace("-", " "), results.Contents.Lines[0].Name, results.Name, $"zone {results.Crs.Epsg}" })
        {
            desk.SetPublicWords($"All about {name}, at last", "", "Ada");
            Assert.Contains("a name that tells", Assert.Throws<SurveyException>(() => JudgedReport.Of(copy.Path, isPublic: true).WriteHtml(Stream.Null)).Message);
        }
        desk.SetPublicWords("Spring survey 2026, 2 boats", "The harbour office, telephone 0555 123, line 2", "Ada");
        JudgedReport.Of(copy.Path, isPublic: true).WriteHtml(Stream.Null);
    }

    [Theory]
    [InlineData("53°41.642' N 1°56.402' E")]
    [InlineData("53°41'38.5\"N 1°56'24.1\"E")]
    [InlineData("53 41 38.52 N, 1 56 24.13 E")]
    [InlineData("5341.642N 00156.402E")]
    [InlineData("534138.5N0015624.1E")]
    [InlineData("53.694 N, 1.940 E")]
    [InlineData("N53.694 E1.940")]
    [InlineData("53,694 1,940")]
    [InlineData("53,41,38.5 and 1,56,24.1")]
    [InlineData("longitude 1.94, latitude 53.69")]
    [InlineData("430100 E, 5950000 N")]
    [InlineData("430 100 E, 5 950 000 N")]
    [InlineData("430100 ± 5 E 5950000 N")]
    [InlineData("53.6940 N (WGS 84) 1.9400 E")]
    [InlineData("53.41.38 N 1.56.24 E")]
    [InlineData("Spring survey 2026, 2 boats", false)]
    [InlineData("The harbour office, telephone 0555 123, 10 to 12 h", false)]
    [InlineData("53 dives to 1.94 m in 2026", false)]
    [InlineData("54.694 N, 1.940 E", false)]
    public void A_pair_near_the_survey_is_found_in_typed_words_however_it_is_written(string words, bool found = true)
    {
        ProjectedCrs crs = ProjectedCrs.FromEpsg(32631, "test");
        var search = new PositionSearch([crs.FromGeo(new GeoPoint(1 + 56.402 / 60, 53 + 41.642 / 60))], crs.ToGeo);
        Assert.Equal(found, search.FindNear($"A find at {words}, 7 m down") is not null);
    }

    [Fact]
    public void Finds_and_magnetics_are_among_the_places_that_are_looked_for()
    {
        OpenedResults results = OpenedResults.Open(small.Folder);
        GridPoint[] places = [.. JudgedReport.Places(ResultsReader.Read(small.Folder, results.Contents), results.Judgements.Judged)];
        Assert.NotEmpty(results.Contents.Outcomes);
        Assert.NotEmpty(results.Contents.Magnetics);
        Assert.All(results.Contents.Outcomes, o => Assert.Contains(places, p => (p.Easting, p.Northing) == (o.Easting, o.Northing)));
        Assert.All(results.Contents.Magnetics, m => Assert.Contains(m.Reading.Position, places));
    }

    [Theory]
    [InlineData("500012", true)]
    [InlineData("500012.3", true)]
    [InlineData("500012.346", true)]
    [InlineData("500,012.35", true)]
    [InlineData("500 012,3", true)]
    [InlineData("5 760 021.5", true)]
    [InlineData("5’760’021", true)]
    [InlineData("3.000180", true)]
    [InlineData("52.0001", false)]
    [InlineData("500011.9", false)]
    [InlineData("500013", false)]
    [InlineData("1950 kg/m³, 4096 pings, 0.4235 m", false)]
    public void The_search_knows_how_metres_and_degrees_are_written(string words, bool found) =>
        Assert.Equal(found, Search(new GridPoint(500_012.3456, 5_760_021.51, 0)).Find($"It lies at {words} or so.") is not null);

    [Fact]
    public void The_search_knows_minutes_seconds_and_web_mercator()
    {
        var at = new GridPoint(500_012.3456, 5_760_021.51, 0);
        GeoPoint geo = ProjectedCrs.FromEpsg(32631, "test").ToGeo(at);
        PositionSearch search = Search(at);
        double minutes = (geo.Latitude - Math.Floor(geo.Latitude)) * 60, seconds = (minutes - Math.Floor(minutes)) * 60;
        foreach (string words in new[]
        {
            FormattableString.Invariant($"{geo.Latitude:0.00000}"), FormattableString.Invariant($"{Math.Floor(geo.Latitude)}° {minutes:00.0000}′ N"), FormattableString.Invariant($"{Math.Floor(geo.Latitude)}°{minutes:00.000}' N"),
            FormattableString.Invariant($"{Math.Floor(geo.Latitude)}° {Math.Floor(minutes):00}′ {seconds:00.0}″ N"), FormattableString.Invariant($"{Math.Floor(geo.Latitude)}:{Math.Floor(minutes):00}:{seconds:00.0}"),
            FormattableString.Invariant($"{6378137 * geo.Longitude * Math.PI / 180:0}"),
        })
            Assert.True(search.Find(words) is not null, words);
        Assert.Null(search.Find("turned by 38° 12′ to the north"));
    }

    [Fact]
    public void A_photograph_loses_when_where_and_with_what_it_was_taken_but_not_its_picture()
    {
        byte[] photograph = Photograph("GPS 52.00123 N");
        byte[] bare = PictureFile.WithoutOrigin(photograph);
        Assert.DoesNotContain("GPS", Encoding.Latin1.GetString(bare));
        Assert.DoesNotContain("afterwards", Encoding.Latin1.GetString(bare));
        Assert.Equal(".jpg", PictureFile.Kind(bare)!.Value.Ending);
        Assert.Equal([0xff, 0xd9], bare[^2..]);
        // What is left is the picture as it was: quantisation, frame, scan.
        Assert.Contains(Encoding.Latin1.GetString(s_scan), Encoding.Latin1.GetString(bare));
        Assert.Throws<InvalidDataException>(() => PictureFile.WithoutOrigin(photograph.AsSpan(0, photograph.Length / 2)));
    }

    // Everything that can be said has been said, words with positions in them among it.
    private static OpenedResults Judged(TestFolder copy)
    {
        ResultsShelf shelf = Shelves.Open(copy.Path);
        OpenedResults results = shelf.Shown.Results;
        var desk = new JudgementDesk(shelf);
        Target t = results.Targets[0];
        string where = FormattableString.Invariant($"{t.Position.Easting:0.0}, {t.Position.Northing:0.0}");
        GridPoint At(double e, double n) => new(t.Position.Easting + e, t.Position.Northing + n, double.NaN);
        desk.Change(t, "Ada", j => j with { Verdict = Verdict.Accept, Priority = 1, Note = "round, at " + where });
        desk.Outline(t, [At(0, 0), At(1, 0), At(1, 1), At(0, 1)], "Ada");
        desk.Measure(t, new HandMeasure("", default, 1.4, 0.5, null, 0.3, "by probe at " + where, "", default), "Ada");
        desk.Split(t, [At(0, 0), At(0.5, 0)], "Ada");
        desk.AddPhotograph(t, "pot.jpg", Photograph(where), "a pot beside the anchor, " + where, "Ada");
        desk.ChangePhotograph(desk.Judged.Of<Photograph>(t.Id).Single(), "Ada", p => p with { IsPublic = true });
        desk.SetPublicWords("A bay somewhere", "The harbour office, telephone 0555 123", "Ada");
        desk.BeginRound("Bea");
        desk.ChangeBlind(t, j => j with { Verdict = Verdict.Doubt, Note = "at " + where });
        desk.EndRound();
        return results;
    }

    private static void AssertWithheld(OpenedResults results, byte[] bytes, params string[] more)
    {
        GridPoint[] places = [.. results.Targets.Select(t => t.Position), .. results.Targets.Select(t => t.Alternative).OfType<GridPoint>(), .. results.Contents.Lines.SelectMany(l => l.Pings).Select(p => p.Source), .. results.Judgements.Judged.All<HandOutline>().SelectMany(o => o.Corners),
            .. results.Contents.Outcomes.Select(o => new GridPoint(o.Easting, o.Northing, 0)), .. results.Contents.Magnetics.Select(m => m.Reading.Position), new(results.Maps["seabed"].West, results.Maps["seabed"].South, 0), new(results.Maps["seabed"].East, results.Maps["seabed"].North, 0)];
        var search = new PositionSearch(places, results.Crs.ToGeo);
        string[] words = [.. results.Targets.Select(t => t.Id), .. results.Contents.Lines.Select(l => l.Name), "EPSG", results.Crs.Name, $"{results.Crs.Epsg}", results.Name, "Ada", "Bea", "round, at", "pot beside", .. results.Contents.Outcomes.Select(o => o.Note).Where(n => n.Length > 0), "magnet", "residual"];
        foreach (string text in Openings(bytes).Concat(more))
        {
            string? found = search.Find(text) ?? words.FirstOrDefault(w => text.Contains(w, StringComparison.Ordinal));
            Assert.True(found is null, $"“{found}” stands in it");
        }
    }

    // The bytes as they are, what is packed as base64 in them, and what is packed in that or in streams of a PDF; fonts are the same in every report and left out.
    private static IEnumerable<string> Openings(byte[] bytes)
    {
        string raw = Encoding.UTF8.GetString(bytes);
        yield return Regex.Replace(raw.StartsWith("%PDF", StringComparison.Ordinal) ? Encoding.Latin1.GetString(bytes) : raw, @"base64,[A-Za-z0-9+/=]+|stream\r?\n.*?endstream", "", RegexOptions.Singleline);
        foreach (Match packed in Regex.Matches(raw, "data:image/[a-z]+;base64,([A-Za-z0-9+/=]+)"))
            yield return Encoding.Latin1.GetString(Convert.FromBase64String(packed.Groups[1].Value));
        foreach (Match stream in Regex.Matches(Encoding.Latin1.GetString(bytes), @"stream\r?\n(.*?)\r?\nendstream", RegexOptions.Singleline))
        {
            byte[] content = Encoding.Latin1.GetBytes(stream.Groups[1].Value);
            if (Inflated(content) is { } plain && !plain.Contains("glyf", StringComparison.Ordinal))
                yield return plain;
        }
    }

    private static string? Inflated(byte[] content)
    {
        try
        {
            using var zlib = new ZLibStream(new MemoryStream(content), CompressionMode.Decompress);
            using var plain = new MemoryStream();
            zlib.CopyTo(plain);
            return Encoding.Latin1.GetString(plain.ToArray());
        }
        catch (InvalidDataException)
        {
            return null;
        }
    }

    private static PositionSearch Search(GridPoint at) => new PositionSearch([at], ProjectedCrs.FromEpsg(32631, "test").ToGeo);

    // A grey square of eight pixels, made once by Pillow 9.4.
    private static readonly byte[] s_jpeg = Convert.FromBase64String("/9j/4AAQSkZJRgABAQAAAQABAAD/2wBDACgcHiMeGSgjISMtKygwPGRBPDc3PHtYXUlkkYCZlo+AjIqgtObDoKrarYqMyP/L2u71////m8H////6/+b9//j/wAALCAAIAAgBAREA/8QAHwAAAQUBAQEBAQEAAAAAAAAAAAECAwQFBgcICQoL/8QAtRAAAgEDAwIEAwUFBAQAAAF9AQIDAAQRBRIhMUEGE1FhByJxFDKBkaEII0KxwRVS0fAkM2JyggkKFhcYGRolJicoKSo0NTY3ODk6Q0RFRkdISUpTVFVWV1hZWmNkZWZnaGlqc3R1dnd4eXqDhIWGh4iJipKTlJWWl5iZmqKjpKWmp6ipqrKztLW2t7i5usLDxMXGx8jJytLT1NXW19jZ2uHi4+Tl5ufo6erx8vP09fb3+Pn6/9oACAEBAAA/ACv/2Q==");

    // From the scan on.
    private static readonly byte[] s_scan = s_jpeg[s_jpeg.AsSpan().IndexOf((ReadOnlySpan<byte>)[0xff, 0xda])..];

    // The picture with a place in its Exif, in a comment and after its end.
    private static byte[] Photograph(string where)
    {
        byte[] words = Encoding.ASCII.GetBytes(where);
        byte[] exif = [.. "Exif\0\0II*\0"u8, 8, 0, 0, 0, 0, 0, .. words];
        return [0xff, 0xd8, 0xff, 0xe1, 0, (byte)(exif.Length + 2), .. exif, 0xff, 0xfe, 0, (byte)(words.Length + 2), .. words, .. s_jpeg[2..], .. "afterwards "u8, .. words];
    }
}
