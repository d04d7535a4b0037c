using System.Security.Cryptography;
using System.Text;
using System.Text.RegularExpressions;
using Undersand.Runs.Reporting;

namespace Undersand.Runs.Tests.Reporting;

public partial class HtmlReportTests
{
    private static readonly Lazy<string> _full = new(() => Html(ReportScenes.Full()));

    [Fact]
    public void The_page_says_what_the_committed_page_says()
    {
        string folder = Path.Combine(RepositoryRoot(), "tests", "Undersand.Runs.Tests", "Reporting");
        string approved = Path.Combine(folder, "report.approved.txt"), received = Path.Combine(folder, "report.received.txt");
        string text = Words(_full.Value);
        if (File.Exists(approved) && File.ReadAllText(approved) == text)
        {
            File.Delete(received);
            return;
        }
        File.WriteAllText(received, text);
        Assert.Fail($"The report reads differently: compare {received} with report.approved.txt, and accept it by reading the difference.");
    }

    [Fact]
    public void The_page_names_no_outside_address()
    {
        Assert.DoesNotMatch("(?i)https?:|ftp:|url\\((?!data:|#)|@import|<link|<script|<iframe", _full.Value);
        foreach (Match link in LinkPattern().Matches(_full.Value))
            Assert.Matches("^(#|data:image/png;base64,)", link.Groups[1].Value);
    }

    [Fact]
    public void The_pages_policy_admits_its_own_style_and_nothing_else()
    {
        string style = Regex.Match(_full.Value, "<style>(.*?)</style>", RegexOptions.Singleline).Groups[1].Value;
        string hash = Convert.ToBase64String(SHA256.HashData(Encoding.UTF8.GetBytes(style)));
        Assert.Contains($"default-src 'none'; style-src 'sha256-{hash}'; img-src data:; font-src data:;", _full.Value, StringComparison.Ordinal);
        Assert.DoesNotContain(" style=", _full.Value, StringComparison.Ordinal);
    }

    [Fact]
    public void What_users_gave_is_text_and_never_markup()
    {
        string page = Html(ReportScenes.Unkind());
        Assert.DoesNotContain("<script", page, StringComparison.Ordinal);
        Assert.DoesNotContain("<i>marked", page, StringComparison.Ordinal);
        Assert.DoesNotContain('\u0007', page);
        Assert.Contains("&lt;script&gt;alert(1)&lt;/script&gt; &amp;", page, StringComparison.Ordinal);
        Assert.Contains("Łosoś – Νήσος «Γλάρος» 海鸥", page, StringComparison.Ordinal);
    }

    [Fact]
    public void Every_assumption_flaw_and_step_is_on_the_page()
    {
        SurveyResult result = ReportScenes.Full();
        string words = Words(_full.Value);
        Assert.All(result.Survey.Assumptions, a => Assert.Contains($"{a.Quantity} | {a.Value} | {a.Source}", words, StringComparison.Ordinal));
        Assert.All(result.Survey.Cautions.Concat(result.Cautions), c => Assert.Contains($"{c.Where} | {c.Text} | {c.Count}", words, StringComparison.Ordinal));
        Assert.All(result.Steps.SelectMany(s => s.Settings), s => Assert.Contains($"{s.Key}: {s.Value}", words, StringComparison.Ordinal));
    }

    [Fact]
    public void Every_target_is_in_each_table()
    {
        foreach (SurveyResult result in (SurveyResult[])[ReportScenes.Full(), ReportScenes.Crowded()])
        {
            string page = Html(result);
            Assert.All(result.Targets, t => Assert.Contains($"<td>{t.Id}</td>", page, StringComparison.Ordinal));
            Assert.Equal(3, Regex.Count(page, $"<th scope=\"row\">{result.Targets.Count}</th>"));
        }
    }

    [Fact]
    public void Every_picture_has_words_and_every_table_heads()
    {
        Assert.Equal(Regex.Count(_full.Value, "<svg "), Regex.Count(_full.Value, "<svg role=\"img\" aria-labelledby=\"f[0-9]+-t\" [^>]*><title id=\"f[0-9]+-t\">[^<]{30,}</title>"));
        Assert.Equal(Regex.Count(_full.Value, "<th[ >]"), Regex.Count(_full.Value, "<th scope=\"(col|row)\""));
        Assert.Equal(Regex.Count(_full.Value, "<table>"), Regex.Count(_full.Value, "<table>\n<caption id="));
        Assert.Contains("<html lang=\"en\">", _full.Value, StringComparison.Ordinal);
        string[] ids = [.. Regex.Matches(_full.Value, " id=\"([^\"]+)\"").Select(m => m.Groups[1].Value)];
        Assert.Equal(ids.Length, ids.Distinct().Count());
    }

    [Fact]
    public void The_same_result_gives_the_same_bytes() => Assert.Equal(_full.Value, Html(ReportScenes.Full()));

    [Fact]
    public void A_survey_without_targets_is_not_called_empty()
    {
        string words = Words(Html(ReportScenes.WithoutTargets()));
        Assert.Contains("No target was found. That is not the same as an empty seabed", words, StringComparison.Ordinal);
    }

    [Fact]
    public void A_target_seen_by_one_line_only_shows_both_places()
    {
        SurveyResult result = ReportScenes.OneLine();
        string words = Words(Html(result));
        Assert.Contains("3 of them could as well lie at a second place, across the only line that saw them.", words, StringComparison.Ordinal);
        Assert.All(result.Targets, t => Assert.Contains(FormattableString.Invariant($"{t.Alternative!.Value.Easting:F1}, {t.Alternative.Value.Northing:F1}"), words, StringComparison.Ordinal));
    }

    internal static string Html(SurveyResult result)
    {
        using var stream = new MemoryStream();
        Report.WriteHtml(result, stream);
        return Encoding.UTF8.GetString(stream.ToArray());
    }

    internal static string RepositoryRoot()
    {
        DirectoryInfo? folder = new(AppContext.BaseDirectory);
        while (folder is not null && !File.Exists(Path.Combine(folder.FullName, "Undersand.slnx")))
            folder = folder.Parent;
        return folder?.FullName ?? throw new InvalidOperationException("The tests run outside the repository.");
    }

    /// <summary>The page as someone hears it: a line a block, cells parted by bars, pictures by their alternative text.</summary>
    internal static string Words(string page)
    {
        string text = page[page.IndexOf("<body>", StringComparison.Ordinal)..];
        text = Regex.Replace(text, "<svg .*?<title[^>]*>(.*?)</title>.*?</svg>", "[picture: $1]\n", RegexOptions.Singleline);
        text = Regex.Replace(text, "</t[hd]>(?=<t[hd])", " | ");
        text = Regex.Replace(text, "</dt>", ": ");
        text = Regex.Replace(text, "<(br|/p|/li|/h[1-6]|/tr|/div|/caption|/figcaption)>", "\n");
        text = Regex.Replace(text, "<[^>]+>", "");
        text = System.Net.WebUtility.HtmlDecode(text);
        text = Regex.Replace(text, "Undersand [0-9][^ ]* ", "Undersand VERSION ");
        return Regex.Replace(text, "\n\\s*\n+", "\n").Trim() + "\n";
    }

    [GeneratedRegex("(?:href|src)=\"([^\"]*)\"")]
    private static partial Regex LinkPattern();
}
