using PdfSharp.Drawing;

namespace Undersand.Runs.Reporting;

/// <summary>Draws a drawing's marks into a PDF page as vectors.</summary>
internal static class PdfDrawing
{
    /// <param name="page">The page's drawing surface, in points.</param>
    /// <param name="drawing">What to draw.</param>
    /// <param name="left">Millimetres from the page's left edge.</param>
    /// <param name="top">Millimetres from its top.</param>
    public static void Draw(XGraphics page, Drawing drawing, double left, double top)
    {
        XGraphicsState outer = page.Save();
        page.TranslateTransform(left * Tokens.PointsPerMm, top * Tokens.PointsPerMm);
        var clips = new Stack<XGraphicsState>();
        foreach (Mark mark in drawing.Marks)
            switch (mark)
            {
                case PathMark path: Path(page, path); break;
                case TextMark text: Text(page, text); break;
                case ImageMark image: Image(page, image); break;
                case ClipMark clip:
                    clips.Push(page.Save());
                    page.IntersectClip(Rectangle(clip.Box));
                    break;
                case EndClipMark: page.Restore(clips.Pop()); break;
            }
        page.Restore(outer);
    }

    public static XColor Colour(Ink ink, double alpha = 1)
    {
        string hex = Tokens.Inks[ink].Day;
        return XColor.FromArgb((int)Math.Round(255 * alpha), Convert.ToInt32(hex[1..3], 16), Convert.ToInt32(hex[3..5], 16), Convert.ToInt32(hex[5..7], 16));
    }

    private static void Path(XGraphics page, PathMark path)
    {
        if (!path.Closed)
        {
            XPen drawn = Pen(path.Pen!.Value);
            foreach (IReadOnlyList<Spot> part in path.Parts)
                page.DrawLines(drawn, Points(part));
            return;
        }
        var figure = new XGraphicsPath { FillMode = XFillMode.Winding };
        foreach (IReadOnlyList<Spot> part in path.Parts)
        {
            figure.StartFigure();
            figure.AddLines(Points(part));
            figure.CloseFigure();
        }
        XPen? pen = path.Pen is Pen p ? Pen(p) : null;
        XBrush? brush = path.Fill is Ink fill ? new XSolidBrush(Colour(fill)) : null;
        if (pen is not null && brush is not null)
            page.DrawPath(pen, brush, figure);
        else if (brush is not null)
            page.DrawPath(brush, figure);
        else if (pen is not null)
            page.DrawPath(pen, figure);
    }

    private static XPoint[] Points(IReadOnlyList<Spot> part) => [.. part.Select(s => new XPoint(s.X * Tokens.PointsPerMm, s.Y * Tokens.PointsPerMm))];

    private static XPen Pen(Pen pen)
    {
        double width = pen.Width * Tokens.PointsPerMm;
        var drawn = new XPen(Colour(pen.Ink), width) { LineJoin = XLineJoin.Round };
        if (pen.Dash > 0)
            drawn.DashPattern = [pen.Dash / pen.Width, pen.Dash / pen.Width];
        return drawn;
    }

    private static void Text(XGraphics page, TextMark text)
    {
        TextStyle style = text.Style;
        if (style.Plate)
            page.DrawRectangle(new XSolidBrush(Colour(Ink.Paper, 0.8)), Rectangle(SvgWriter.Plate(text)));
        Typeface face = Typeface.Of(style.Bold);
        string drawable = face.Drawable(text.Text);
        double width = face.Width(drawable, style.Size) * Tokens.PointsPerMm;
        double shift = style.Anchor switch { Anchor.Start => 0, Anchor.Middle => -width / 2, _ => -width };
        double x = text.X * Tokens.PointsPerMm, y = text.Y * Tokens.PointsPerMm;
        XGraphicsState state = page.Save();
        page.TranslateTransform(x, y);
        if (style.Turn != 0)
            page.RotateTransform(-style.Turn);
        page.DrawString(drawable, EmbeddedFonts.Font(style.Size, style.Bold), new XSolidBrush(Colour(style.Ink)), shift, 0);
        page.Restore(state);
    }

    // The library draws JPEG and PNG; of a picture that it can't, the frame and a word stand there.
    private static void Image(XGraphics page, ImageMark image)
    {
        try
        {
            if (image.MediaType == "image/webp")
                throw new NotSupportedException("WebP");
            using var stream = new MemoryStream(image.Picture);
            using XImage picture = XImage.FromStream(stream);
            picture.Interpolate = image.MediaType == "image/jpeg";
            var (a, b, c, d, e, f) = image.Turn.Into(image.Box);
            XGraphicsState upright = page.Save();
            try
            {
                page.MultiplyTransform(new XMatrix(a, b, c, d, e * Tokens.PointsPerMm, f * Tokens.PointsPerMm));
                page.DrawImage(picture, Rectangle(image.Turn.IsQuarter ? new(0, 0, image.Box.Height, image.Box.Width) : new(0, 0, image.Box.Width, image.Box.Height)));
            }
            finally
            {
                page.Restore(upright);
            }
        }
        catch (Exception fault) when (fault is InvalidOperationException or NotSupportedException or ArgumentException or IOException)
        {
            page.DrawRectangle(Pen(new Pen(Ink.Rule)), Rectangle(image.Box));
            Text(page, new TextMark(image.Box.MiddleX, image.Box.MiddleY, "This picture is in the page (HTML) only.", new(Anchor: Anchor.Middle)));
        }
    }

    private static XRect Rectangle(Box box) =>
        new(box.Left * Tokens.PointsPerMm, box.Top * Tokens.PointsPerMm, box.Width * Tokens.PointsPerMm, box.Height * Tokens.PointsPerMm);
}
