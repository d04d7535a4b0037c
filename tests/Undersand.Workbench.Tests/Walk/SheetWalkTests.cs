using System.Text;
using System.Text.RegularExpressions;
using Undersand.Workbench.Tests.Support;

namespace Undersand.Workbench.Tests.Walk;

/// <summary>The visit sheet as it leaves the printer.</summary>
public sealed class SheetWalkTests(SmallResults small, Browser browser) : IClassFixture<Browser>
{
    // As wide as high, so that it would take all the height that it is let.
    [Fact]
    public async Task Whatever_was_written_and_attached_it_is_one_page_with_its_footer()
    {
        using var judged = new JudgedCopy(small, targets: 8);
        Target target = judged.First;
        string much = string.Join(' ', Enumerable.Repeat("a long remark about wind, tide and the way there", 30));
        judged.Desk.Change(target, "Ada", j => j with { Verdict = Verdict.Accept, Note = much });
        foreach (string caption in new[] { much, "a pot" })
            judged.Desk.AddPhotograph(target, "a.png", [.. OnePixel.Png, .. Encoding.UTF8.GetBytes(caption)], caption, "Ada");
        foreach (string who in new[] { "Ada", "Bea" })
            judged.Desk.Measure(target, new HandMeasure("", default, 1.4, 0.5, 0.3, 0.3, "by probe, at slack water, twice", "", default), who);
        foreach (Target other in judged.Results.Targets.Skip(1).Take(6))
            judged.Desk.Merge(target, other, "Ada");
        await using RunningWorkbench workbench = await WorkbenchServer.StartAsync(new WorkbenchOptions(judged.Folder.Path));
        await using WatchedPage watched = await browser.OpenAsync(workbench.Address);
        foreach (string path in new[] { $"/sheet/{target.Id}", "/sheets" })
        {
            await watched.GoAsync(path);
            byte[] paper = await watched.Page.PdfAsync(new() { PreferCSSPageSize = true });
            Assert.Equal(await watched.Page.Locator(".sheet").CountAsync(), Regex.Count(Encoding.Latin1.GetString(paper), @"/Type\s*/Page\b(?!s)"));
        }
        // Nothing of the page is cut off at its foot: A4 within its margins, in CSS pixels.
        await watched.Page.SetViewportSizeAsync(703, 1032);
        await watched.Page.EmulateMediaAsync(new() { Media = Microsoft.Playwright.Media.Print });
        Assert.True(await watched.Page.EvaluateAsync<bool>("() => [...document.querySelectorAll('.sheet')].every(s => s.scrollHeight <= s.clientHeight + 1 && s.querySelector('.tall').getBoundingClientRect().height > 35)"));
        watched.AssertQuiet();
    }
}
