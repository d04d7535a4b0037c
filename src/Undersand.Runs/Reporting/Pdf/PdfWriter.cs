using System.IO.Compression;
using PdfSharp.Drawing;
using PdfSharp.Pdf;
using PdfSharp.Pdf.Advanced;

namespace Undersand.Runs.Reporting;

/// <summary>Lays the report out on A4 pages: running head, page numbers, bookmarks, tables that go on over pages.</summary>
internal sealed class PdfWriter : IDisposable
{
    private const double Inset = 6;

    private readonly PdfDocument _pdf = new();
    private readonly ReportDocument _document;
    private PdfPage _page = null!;
    private XGraphics _graphics = null!;
    private double _y;
    private bool _fresh;
    private int _figures;
    private PdfOutline? _chapter;

    private PdfWriter(ReportDocument document) => _document = document;

    public static void Write(ReportDocument document, Stream stream)
    {
        EmbeddedFonts.Use();
        using var writer = new PdfWriter(document);
        writer.Layout();
        writer.Number();
        writer.Compress();
        using var memory = new MemoryStream();
        writer._pdf.Save(memory, closeStream: false);
        stream.Write(PdfChance.Remove(memory.ToArray()));
    }

    public void Dispose()
    {
        _graphics?.Dispose();
        _pdf.Dispose();
    }

    private static double Bottom => Tokens.PageHeight - Tokens.MarginBottom;

    private void Layout()
    {
        _pdf.Options.CompressContentStreams = false;
        _pdf.Info.Title = _document.Running;
        _pdf.Info.CreationDate = _document.Date.ToDateTimeUtc();
        _pdf.Info.ModificationDate = _document.Date.ToDateTimeUtc();
        _pdf.Language = "en";
        _pdf.ViewerPreferences.DisplayDocTitle = true;
        NewPage();
        Lines(TextLines.Break(_document.Title, Tokens.Title, true, Tokens.TextWidth), Tokens.Title, true, Ink.Text, 1.15);
        Lines(TextLines.Break(_document.Subtitle, Tokens.Heading2, false, Tokens.TextWidth), Tokens.Heading2, false, Ink.Soft);
        Lines(TextLines.Break(_document.DateLine, Tokens.Body, false, Tokens.TextWidth), Tokens.Body, false, Ink.Soft);
        _y += Tokens.Step;
        for (int i = 0; i < _document.Blocks.Count; i++)
            Write(_document.Blocks[i], i + 1 < _document.Blocks.Count ? _document.Blocks[i + 1] : null);
    }

    private void Write(Block block, Block? next)
    {
        switch (block)
        {
            case Heading heading: Heading(heading, next); break;
            case Paragraph paragraph: Paragraph(paragraph, Tokens.Margin, Tokens.TextWidth, Ink.Text); _y += Tokens.Step; break;
            case Items items: List(items.Entries, Tokens.Margin, Tokens.TextWidth, Ink.Text); _y += Tokens.Step; break;
            case Notice notice: Notice(notice); break;
            case Facts facts: Facts(facts); break;
            case Table table: new PdfTable(table).Write(this); _y += 2 * Tokens.Step; break;
            case Figure figure: Figure(figure); break;
            default: throw new InvalidOperationException($"No paper knows a {block.GetType().Name}.");
        }
    }

    /// <summary>Millimetres left on the page.</summary>
    public double Room => Bottom - _y;

    /// <summary>Where the next mark goes, millimetres from the page's top.</summary>
    public double Y { get => _y; set { _y = value; _fresh = false; } }

    public void NewPage()
    {
        if (_fresh)
            return;
        _graphics?.Dispose();
        _page = _pdf.AddPage();
        _page.Width = XUnit.FromMillimeter(Tokens.PageWidth);
        _page.Height = XUnit.FromMillimeter(Tokens.PageHeight);
        _graphics = XGraphics.FromPdfPage(_page);
        _y = Tokens.MarginTop;
        _fresh = true;
    }

    public void Ensure(double height)
    {
        if (Room < height)
            NewPage();
    }

    public static double LineOf(double points, double spacing = Tokens.LineHeight) => points / Tokens.PointsPerMm * spacing;

    /// <summary>Text with its baseline at a place, millimetres.</summary>
    public void Text(string text, double x, double baseline, double points, bool bold, Ink ink, Anchor anchor = Anchor.Start)
    {
        Typeface face = Typeface.Of(bold);
        string drawable = face.Drawable(text);
        double shift = anchor switch { Anchor.Start => 0, Anchor.Middle => face.Width(drawable, points) / 2, _ => face.Width(drawable, points) };
        _graphics.DrawString(drawable, EmbeddedFonts.Font(points, bold), new XSolidBrush(PdfDrawing.Colour(ink)), (x - shift) * Tokens.PointsPerMm, baseline * Tokens.PointsPerMm);
        _fresh = false;
    }

    public void Rule(double x1, double x2, double y, double width, Ink ink) =>
        _graphics.DrawLine(new XPen(PdfDrawing.Colour(ink), width * Tokens.PointsPerMm), x1 * Tokens.PointsPerMm, y * Tokens.PointsPerMm, x2 * Tokens.PointsPerMm, y * Tokens.PointsPerMm);

    private void Ground(double x, double y, double width, double height, Ink ink) =>
        _graphics.DrawRectangle(new XSolidBrush(PdfDrawing.Colour(ink)), x * Tokens.PointsPerMm, y * Tokens.PointsPerMm, width * Tokens.PointsPerMm, height * Tokens.PointsPerMm);

    private void Lines(List<string> lines, double points, bool bold, Ink ink, double spacing = Tokens.LineHeight)
    {
        foreach (string line in lines)
        {
            double height = LineOf(points, spacing);
            Ensure(height);
            Text(line, Tokens.Margin, _y + 0.75 * height, points, bold, ink);
            _y += height;
        }
    }

    private void Heading(Heading heading, Block? next)
    {
        bool chapter = heading.Level == 1;
        double points = chapter ? Tokens.Heading1 : Tokens.Heading2;
        List<string> lines = TextLines.Break(heading.Text, points, true, Tokens.TextWidth);
        double follow = next switch
        {
            Figure figure => figure.Drawing.Height + 12,
            Notice notice => NoticeHeight(notice),
            Table => 44,
            _ => 26,
        };
        if (!_fresh)
            _y += (chapter ? 4 : 2) * Tokens.Step;
        Ensure(lines.Count * LineOf(points, 1.2) + 8 + Math.Min(follow, Tokens.TallestFigure));
        if (chapter)
        {
            Rule(Tokens.Margin, Tokens.PageWidth - Tokens.Margin, _y, Tokens.Bold, Ink.Text);
            _y += 1.5 * Tokens.Step;
            _chapter = _pdf.Outlines.Add(heading.Text, _page, false);
        }
        else
        {
            _chapter?.Outlines.Add(heading.Text, _page, false);
        }
        Lines(lines, points, true, Ink.Text, 1.2);
        _y += chapter ? 1.4 * Tokens.Step : 0.6 * Tokens.Step;
    }

    private static List<string> BodyLines(Paragraph p, double width, double points, out double lead)
    {
        lead = p.Lead is null ? 0 : Typeface.SemiBold.Width(p.Lead + " ", points);
        bool apart = lead > 0.7 * width;
        if (!apart)
            return TextLines.Break(p.Text, points, false, width, lead);
        lead = 0;
        return TextLines.Break(p.Lead + " " + p.Text, points, false, width);
    }

    private void Paragraph(Paragraph paragraph, double left, double width, Ink ink, double points = Tokens.Body)
    {
        List<string> lines = BodyLines(paragraph, width, points, out double lead);
        double height = LineOf(points);
        for (int i = 0; i < lines.Count; i++)
        {
            if (i == 0 && lines.Count > 1)
                Ensure(2 * height);
            Ensure(height);
            if (i == 0 && lead > 0)
                Text(paragraph.Lead!, left, _y + 0.75 * height, points, true, ink);
            Text(lines[i], left + (i == 0 ? lead : 0), _y + 0.75 * height, points, false, Ink.Text);
            _y += height;
        }
    }

    private void List(IReadOnlyList<Paragraph> entries, double left, double width, Ink ink, double points = Tokens.Body)
    {
        foreach (Paragraph entry in entries)
        {
            Ensure(LineOf(points) * Math.Min(2, BodyLines(entry, width - 4, points, out _).Count));
            Text("•", left, _y + 0.75 * LineOf(points), points, false, ink);
            Paragraph(entry, left + 4, width - 4, ink, points);
            _y += 0.35 * Tokens.Step;
        }
    }

    private void Notice(Notice notice)
    {
        Ink ink = notice.Danger ? Ink.Danger : Ink.Text;
        double height = NoticeHeight(notice);
        Ensure(Math.Min(height, Bottom - Tokens.MarginTop));
        bool whole = height <= Room;
        if (whole)
        {
            Ground(Tokens.Margin, _y, Tokens.TextWidth, height, notice.Danger ? Ink.DangerShade : Ink.Shade);
            Ground(Tokens.Margin, _y, 1.4, height, ink);
        }
        double end = _y + height;
        _y += Tokens.Step;
        Text(notice.Title, Tokens.Margin + Inset, _y + 0.75 * LineOf(Tokens.Heading2), Tokens.Heading2, true, ink);
        _y += LineOf(Tokens.Heading2) + 1;
        List(notice.Entries, Tokens.Margin + Inset, Tokens.TextWidth - 2 * Inset, ink);
        _y = (whole ? end : _y) + 2 * Tokens.Step;
    }

    private static double NoticeHeight(Notice notice) => 2 * Tokens.Step + LineOf(Tokens.Heading2) + 2
        + notice.Entries.Sum(e => BodyLines(e, Tokens.TextWidth - 2 * Inset - 4, Tokens.Body, out _).Count * LineOf(Tokens.Body) + 0.35 * Tokens.Step);

    private void Facts(Facts facts)
    {
        const double names = 46;
        double height = LineOf(Tokens.Body);
        foreach ((string name, string value) in facts.Entries)
        {
            List<string> lines = TextLines.Break(value, Tokens.Body, false, Tokens.TextWidth - names);
            Ensure(height * lines.Count + 1);
            Text(name, Tokens.Margin, _y + 0.75 * height, Tokens.Body, false, Ink.Soft);
            foreach (string line in lines)
            {
                Text(line, Tokens.Margin + names, _y + 0.75 * height, Tokens.Body, false, Ink.Text);
                _y += height;
            }
            Rule(Tokens.Margin, Tokens.PageWidth - Tokens.Margin, _y + 0.3, Tokens.Hair, Ink.Rule);
            _y += 0.9;
        }
        _y += Tokens.Step;
    }

    private void Figure(Figure figure)
    {
        string caption = $"Figure {++_figures}.";
        var words = new Paragraph(figure.Caption, caption);
        double below = BodyLines(words, Tokens.TextWidth, Tokens.Small, out _).Count * LineOf(Tokens.Small) + Tokens.Step;
        Ensure(figure.Drawing.Height + below);
        PdfDrawing.Draw(_graphics, figure.Drawing, Tokens.Margin, _y);
        Y = _y + figure.Drawing.Height + 0.5 * Tokens.Step;
        Paragraph(words, Tokens.Margin, Tokens.TextWidth, Ink.Text, Tokens.Small);
        _y += 2 * Tokens.Step;
    }

    // PDFsharp 6.2.4 ends its compressed page contents without the checksum of RFC 1950, which readers warn of; so we compress them.
    private void Compress()
    {
        foreach (PdfPage page in _pdf.Pages)
            foreach (PdfItem item in page.Contents.Elements)
            {
                if ((item as PdfReference)?.Value is not PdfDictionary { Stream: not null } content || content.Elements.ContainsKey("/Filter"))
                    continue;
                using var memory = new MemoryStream();
                using (var zlib = new ZLibStream(memory, CompressionLevel.SmallestSize, leaveOpen: true))
                    zlib.Write(content.Stream.Value);
                content.Stream.Value = memory.ToArray();
                content.Elements["/Filter"] = new PdfName("/FlateDecode");
                content.Elements["/Length"] = new PdfInteger(content.Stream.Length);
            }
    }

    private void Number()
    {
        _graphics.Dispose();
        for (int p = 0; p < _pdf.PageCount; p++)
        {
            _graphics = XGraphics.FromPdfPage(_pdf.Pages[p]);
            double foot = Tokens.PageHeight - 11;
            if (p > 0)
                Text(TextLines.Break(_document.Running, Tokens.LabelSmall, false, Tokens.TextWidth)[0], Tokens.Margin, 13, Tokens.LabelSmall, false, Ink.Soft);
            Text("Places to look, not permissions to dig. Probabilities not calibrated. Share positions only with those entitled to them.", Tokens.Margin, foot, Tokens.LabelSmall, false, Ink.Soft);
            Text($"{p + 1} / {_pdf.PageCount}", Tokens.PageWidth - Tokens.Margin, foot, Tokens.Label, true, Ink.Text, Anchor.End);
            _graphics.Dispose();
        }
    }
}
