using System.Text;

namespace Undersand.Runs.Reporting;

/// <summary>Writes what a run found out as a page and as a paper, both from one description of the content.</summary>
public static class Report
{
    /// <summary>Writes one self-contained HTML page: no script, no outside address.</summary>
    /// <param name="result">What was found out.</param>
    /// <param name="stream">Where to; left open.</param>
    public static void WriteHtml(SurveyResult result, Stream stream)
    {
        byte[] page = Encoding.UTF8.GetBytes(HtmlWriter.Write(Contents.Compose(result)));
        stream.Write(page);
    }

    /// <summary>Writes a PDF of A4 pages. The same result gives the same pictures, though not the same bytes (the library names its fonts at random).</summary>
    /// <param name="result">What was found out.</param>
    /// <param name="stream">Where to; left open.</param>
    public static void WritePdf(SurveyResult result, Stream stream) => PdfWriter.Write(Contents.Compose(result), stream);

    /// <summary>Writes both, composing the content once.</summary>
    /// <param name="result">What was found out.</param>
    /// <param name="html">Where the page goes; left open.</param>
    /// <param name="pdf">Where the paper goes; left open.</param>
    public static void Write(SurveyResult result, Stream html, Stream pdf)
    {
        ReportDocument document = Contents.Compose(result);
        html.Write(Encoding.UTF8.GetBytes(HtmlWriter.Write(document)));
        PdfWriter.Write(document, pdf);
    }
}
