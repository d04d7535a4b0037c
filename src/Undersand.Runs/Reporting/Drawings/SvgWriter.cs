using System.Globalization;
using System.Text;

namespace Undersand.Runs.Reporting;

/// <summary>Writes a drawing as SVG (W3C SVG 1.1 elements only).</summary>
internal sealed class SvgWriter
{
    private readonly StringBuilder _svg = new();
    private readonly Func<Ink, string> _colour;
    private readonly string _idPrefix;
    private int _clips;

    private SvgWriter(Func<Ink, string> colour, string idPrefix)
    {
        _colour = colour;
        _idPrefix = idPrefix;
    }

    /// <summary>For a page whose style sheet defines the inks; ids begin with the prefix, which is unique in the page.</summary>
    public static string Inline(Drawing drawing, string alt, string idPrefix)
    {
        var writer = new SvgWriter(i => $"var(--{Tokens.Inks[i].Name})", idPrefix);
        writer.Write(drawing, alt, "");
        return writer._svg.ToString();
    }

    public static string Standalone(Drawing drawing, string alt)
    {
        var writer = new SvgWriter(i => Tokens.Inks[i].Day, "d");
        writer.Write(drawing, alt, $" xmlns=\"http://www.w3.org/2000/svg\" width=\"{N(drawing.Width)}mm\" height=\"{N(drawing.Height)}mm\" font-family=\"IBM Plex Sans, sans-serif\"");
        return writer._svg.ToString();
    }

    private void Write(Drawing drawing, string alt, string attributes)
    {
        _svg.Append("<svg role=\"img\" aria-labelledby=\"").Append(_idPrefix).Append("-t\" viewBox=\"0 0 ").Append(N(drawing.Width)).Append(' ').Append(N(drawing.Height)).Append('"').Append(attributes).Append('>');
        _svg.Append("<title id=\"").Append(_idPrefix).Append("-t\">").Append(Escape.Html(alt)).Append("</title>");
        foreach (Mark mark in drawing.Marks)
            Write(mark);
        _svg.Append("</svg>");
    }

    private void Write(Mark mark)
    {
        switch (mark)
        {
            case PathMark path: Path(path); break;
            case TextMark text: Text(text); break;
            case ImageMark image: Image(image); break;
            case ClipMark clip: Clip(clip.Box); break;
            default: _svg.Append("</g>"); break;
        }
    }

    private void Path(PathMark path)
    {
        _svg.Append("<path d=\"");
        foreach (IReadOnlyList<Spot> part in path.Parts)
        {
            for (int i = 0; i < part.Count; i++)
                _svg.Append(i == 0 ? 'M' : 'L').Append(N(part[i].X)).Append(' ').Append(N(part[i].Y));
            if (path.Closed)
                _svg.Append('Z');
        }
        _svg.Append("\" fill=\"").Append(path.Fill is Ink fill ? _colour(fill) : "none").Append('"');
        if (path.Pen is Pen pen)
        {
            _svg.Append(" stroke=\"").Append(_colour(pen.Ink)).Append("\" stroke-width=\"").Append(N(pen.Width)).Append("\" stroke-linejoin=\"round\"");
            if (pen.Dash > 0)
                _svg.Append(" stroke-dasharray=\"").Append(N(pen.Dash)).Append('"');
        }
        _svg.Append("/>");
    }

    private void Text(TextMark text)
    {
        TextStyle style = text.Style;
        if (style.Plate)
        {
            Box plate = Plate(text);
            _svg.Append($"<rect x=\"{N(plate.Left)}\" y=\"{N(plate.Top)}\" width=\"{N(plate.Width)}\" height=\"{N(plate.Height)}\" rx=\"0.4\" fill=\"{_colour(Ink.Paper)}\" fill-opacity=\"0.8\"/>");
        }
        _svg.Append($"<text x=\"{N(text.X)}\" y=\"{N(text.Y)}\" font-size=\"{N(style.Size / Tokens.PointsPerMm)}\" fill=\"{_colour(style.Ink)}\"");
        if (style.Anchor != Anchor.Start)
            _svg.Append(style.Anchor == Anchor.Middle ? " text-anchor=\"middle\"" : " text-anchor=\"end\"");
        if (style.Bold)
            _svg.Append(" font-weight=\"600\"");
        if (style.Turn != 0)
            _svg.Append($" transform=\"rotate({N(-style.Turn)} {N(text.X)} {N(text.Y)})\"");
        _svg.Append('>').Append(Escape.Html(text.Text)).Append("</text>");
    }

    /// <summary>The ground of a text that has one (never turned).</summary>
    public static Box Plate(TextMark text)
    {
        double em = text.Style.Size / Tokens.PointsPerMm, width = Typeface.Of(text.Style.Bold).Width(text.Text, text.Style.Size);
        double left = text.X - (text.Style.Anchor switch { Anchor.Start => 0, Anchor.Middle => width / 2, _ => width });
        return new(left - 0.15 * em, text.Y - 0.82 * em, width + 0.3 * em, 1.02 * em);
    }

    private void Image(ImageMark image)
    {
        Box box = image.Box;
        if (image.Turn.Number <= 1)
            _svg.Append($"<image x=\"{N(box.Left)}\" y=\"{N(box.Top)}\" width=\"{N(box.Width)}\" height=\"{N(box.Height)}\"");
        else
        {
            var (a, b, c, d, e, f) = image.Turn.Into(box);
            (double wide, double high) = image.Turn.IsQuarter ? (box.Height, box.Width) : (box.Width, box.Height);
            _svg.Append($"<image transform=\"matrix({N(a)} {N(b)} {N(c)} {N(d)} {N(e)} {N(f)})\" width=\"{N(wide)}\" height=\"{N(high)}\"");
        }
        _svg.Append($" preserveAspectRatio=\"none\" href=\"data:{image.MediaType};base64,");
        _svg.Append(Convert.ToBase64String(image.Picture)).Append("\"/>");
    }

    private void Clip(Box box)
    {
        string id = $"{_idPrefix}-c{_clips++}";
        _svg.Append($"<clipPath id=\"{id}\"><rect x=\"{N(box.Left)}\" y=\"{N(box.Top)}\" width=\"{N(box.Width)}\" height=\"{N(box.Height)}\"/></clipPath><g clip-path=\"url(#{id})\">");
    }

    private static string N(double value)
    {
        string text = value.ToString("0.###", CultureInfo.InvariantCulture);
        return text == "-0" ? "0" : text;
    }
}
