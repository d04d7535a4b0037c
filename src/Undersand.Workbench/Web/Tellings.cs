using System.Text;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Http;
using Microsoft.AspNetCore.Mvc;
using Microsoft.AspNetCore.Routing;
using Undersand.Runs;
using Undersand.Storage;
using Undersand.Workbench.Results;
using Answer = Microsoft.AspNetCore.Http.Results;

namespace Undersand.Workbench.Web;

/// <summary>What is told to others: the report with judgements, the public version, photographs.</summary>
internal static class Tellings
{
    public static void Map(WebApplication app)
    {
        app.MapGet("/photographs/{file}", (string file, JudgementDesk desk) =>
            desk.Judged.All<Photograph>().Any(p => p.File == file) && desk.Photographs.Read(file) is { } bytes ? Answer.Bytes(bytes, PictureFile.Kind(bytes)!.Value.MediaType) : Answer.NotFound());
        app.MapGet("/told/report.html", (OpenedResults results, JudgementDesk desk) => Told(results, desk, false, (r, s) => r.WriteHtml(s), As("text/html; charset=utf-8")));
        // To be read here, unlike what is taken away: in the reader's theme.
        app.MapGet("/report", (OpenedResults results, HttpContext context) => new FileInfo(Path.Combine(results.Folder, "report.html")) is { Exists: true } report ? Read(File.ReadAllBytes(report.FullName), context) : Answer.NotFound());
        app.MapGet("/report/judged", (OpenedResults results, JudgementDesk desk, HttpContext context) => Told(results, desk, false, (r, s) => r.WriteHtml(s), bytes => Read(bytes, context)));
        app.MapGet("/told/report.pdf", (OpenedResults results, JudgementDesk desk) => Told(results, desk, false, (r, s) => r.WritePdf(s), As("application/pdf")));
        // Of itself whole: it asks for nothing else and leads nowhere.
        app.MapGet("/public", (OpenedResults results, JudgementDesk desk, HttpContext context) =>
        {
            context.Response.Headers.ContentSecurityPolicy = "default-src 'none'; style-src 'unsafe-inline'; img-src data:; font-src data:; base-uri 'none'; form-action 'none'; frame-ancestors 'none'";
            return Told(results, desk, true, (r, s) => r.WriteHtml(s), As("text/html; charset=utf-8"));
        });
        app.MapGet("/told/public.pdf", (OpenedResults results, JudgementDesk desk) => Told(results, desk, true, (r, s) => r.WritePdf(s), As("application/pdf")));
        app.MapPost("/told/words", ([FromForm] string? title, [FromForm] string? contact, HttpContext context, JudgementDesk desk) =>
            Forms.Answer(() => desk.SetPublicWords(title ?? "", contact ?? "", Forms.Who(context)), "/take#public", "/take"));
    }

    private static Func<byte[], IResult> As(string type) => bytes => Answer.Bytes(bytes, type);

    private static IResult Read(byte[] report, HttpContext context)
    {
        context.Response.Headers.CacheControl = "no-store";
        return Answer.Text(Theme.Dress(Encoding.UTF8.GetString(report), context), "text/html; charset=utf-8");
    }

    private static IResult Told(OpenedResults results, JudgementDesk desk, bool isPublic, Action<JudgedReport, Stream> write, Func<byte[], IResult> answer)
    {
        try
        {
            var memory = new MemoryStream();
            write(JudgedReport.Of(results.Folder, isPublic, desk.Judged), memory);
            return answer(memory.ToArray());
        }
        catch (SurveyException) when (isPublic)
        {
            // The sentence may name what is withheld; whoever makes the public version sees it on the page where it is made.
            return Answer.Text("The public version can't be shown now. Whoever runs the workbench finds the reason under “Take away”.", statusCode: StatusCodes.Status409Conflict);
        }
        catch (SurveyException refused)
        {
            return Answer.Text(refused.Message, statusCode: StatusCodes.Status409Conflict);
        }
    }
}
