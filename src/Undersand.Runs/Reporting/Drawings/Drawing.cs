namespace Undersand.Runs.Reporting;

/// <summary>A picture described by its marks, in millimetres on paper, y downwards; drawn as SVG in a page and as vectors in a PDF.</summary>
public sealed class Drawing
{
    private readonly List<Mark> _marks = [];

    /// <summary>An empty drawing.</summary>
    /// <param name="width">Millimetres.</param>
    /// <param name="height">Millimetres.</param>
    public Drawing(double width, double height)
    {
        Width = width;
        Height = height;
    }

    /// <summary>Millimetres.</summary>
    public double Width { get; }

    /// <summary>Millimetres.</summary>
    public double Height { get; }

    internal IReadOnlyList<Mark> Marks => _marks;

    /// <summary>The drawing as a standalone SVG file with the colours of the day.</summary>
    /// <param name="title">What it shows, for those who can't see it.</param>
    public string ToSvg(string title) => SvgWriter.Standalone(this, title);

    internal void Line(double x1, double y1, double x2, double y2, Pen pen) => _marks.Add(new PathMark([[new(x1, y1), new(x2, y2)]], false, pen, null));

    internal void Path(IReadOnlyList<IReadOnlyList<Spot>> parts, Pen pen)
    {
        if (parts.Count > 0)
            _marks.Add(new PathMark(parts, false, pen, null));
    }

    internal void Path(IReadOnlyList<Spot> points, Pen pen)
    {
        if (points.Count > 1)
            _marks.Add(new PathMark([points], false, pen, null));
    }

    internal void Shape(IReadOnlyList<Spot> points, Pen? pen, Ink? fill) => _marks.Add(new PathMark([points], true, pen, fill));

    internal void Box(Box box, Pen? pen, Ink? fill) =>
        Shape([new(box.Left, box.Top), new(box.Right, box.Top), new(box.Right, box.Bottom), new(box.Left, box.Bottom)], pen, fill);

    internal void Disc(double x, double y, double radius, Pen? pen, Ink? fill) => Shape(Spot.Ellipse(x, y, radius, radius, 0, 24), pen, fill);

    internal void Text(double x, double y, string text, TextStyle style) => _marks.Add(new TextMark(x, y, text, style));

    internal void Image(Box box, byte[] picture) => _marks.Add(new ImageMark(box, picture, "image/png"));

    internal void Image(Box box, Picture picture) => _marks.Add(new ImageMark(box, picture.Bytes, picture.MediaType, picture.Turn));

    internal void Clip(Box box, Action inside)
    {
        _marks.Add(new ClipMark(box));
        inside();
        _marks.Add(new EndClipMark());
    }
}
