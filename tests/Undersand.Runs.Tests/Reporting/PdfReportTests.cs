using System.Text.RegularExpressions;
using Undersand.Runs.Reporting;
using Undersand.Runs.Tests.Support;

namespace Undersand.Runs.Tests.Reporting;

public sealed class PdfReportTests : IDisposable
{
    private readonly string _folder = Directory.CreateTempSubdirectory("undersand-report-").FullName;

    public void Dispose() => Directory.Delete(_folder, true);

    public static TheoryData<string> Scenes => ["full", "magnetics and finds", "empty", "crowded", "one line", "long and thin", "unkind", "void"];

    [Theory]
    [MemberData(nameof(Scenes))]
    public void Every_survey_gives_a_paper_that_others_find_sound(string scene)
    {
        string file = Write(Scene(scene), "a.pdf");
        Assert.InRange(new FileInfo(file).Length, 10_000, 10_000_000);
        Assert.Contains("No syntax or stream encoding errors found", OutsideReader.RunTool("qpdf", "qpdf", "--check", file), StringComparison.Ordinal);
    }

    [Fact]
    public void The_paper_says_what_the_page_says()
    {
        SurveyResult result = ReportScenes.Full();
        string paper = Squeezed(OutsideReader.RunTool("pdftotext", "poppler-utils", "-layout", Write(result, "a.pdf"), "-"));
        ReportDocument document = Contents.Compose(result);
        foreach (Heading heading in document.Blocks.OfType<Heading>())
            Assert.Contains(Squeezed(heading.Text), paper, StringComparison.Ordinal);
        foreach (Paragraph caution in document.Blocks.OfType<Notice>().SelectMany(n => n.Entries))
            Assert.Contains(Squeezed(caution.Lead + caution.Text)[..30], paper, StringComparison.Ordinal);
        foreach (Target target in result.Targets)
            Assert.Contains(target.Id, paper, StringComparison.Ordinal);
        foreach (Assumption assumption in result.Survey.Assumptions)
            Assert.Contains(Squeezed(assumption.Quantity + assumption.Value), paper, StringComparison.Ordinal);
    }

    [Fact]
    public void The_same_result_gives_the_same_bytes_and_another_another_name()
    {
        byte[] first = File.ReadAllBytes(Write(ReportScenes.OneLine(), "a.pdf"));
        Assert.Equal(first, File.ReadAllBytes(Write(ReportScenes.OneLine(), "b.pdf")));
        string Name(byte[] pdf) => Regex.Match(System.Text.Encoding.Latin1.GetString(pdf), "/ID\\[.*?\\]").Value;
        Assert.NotEqual(Name(first), Name(File.ReadAllBytes(Write(ReportScenes.Full(), "c.pdf"))));
    }

    [Fact]
    public void The_paper_is_dated_by_the_newest_ping()
    {
        SurveyResult result = ReportScenes.OneLine();
        string info = OutsideReader.RunTool("pdfinfo", "poppler-utils", "-isodates", Write(result, "a.pdf"));
        string day = NodaTime.Text.InstantPattern.ExtendedIso.Format(result.NewestPing)[..16];
        Assert.Contains(day, Regex.Match(info, "CreationDate: *(.*)").Groups[1].Value, StringComparison.Ordinal);
    }

    private string Write(SurveyResult result, string name)
    {
        string file = Path.Combine(_folder, name);
        using FileStream stream = File.Create(file);
        Report.WritePdf(result, stream);
        return file;
    }

    private static string Squeezed(string text) => Regex.Replace(text, "\\s+", "");

    private static SurveyResult Scene(string name) => name switch
    {
        "full" => ReportScenes.Full(),
        "magnetics and finds" => ReportScenes.WithGiven(),
        "empty" => ReportScenes.WithoutTargets(),
        "crowded" => ReportScenes.Crowded(),
        "one line" => ReportScenes.OneLine(),
        "long and thin" => ReportScenes.LongAndThin(),
        "unkind" => ReportScenes.Unkind(),
        _ => ReportScenes.Void(),
    };
}
