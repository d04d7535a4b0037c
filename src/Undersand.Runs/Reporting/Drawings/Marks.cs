namespace Undersand.Runs.Reporting;

/// <summary>A place in a drawing, millimetres.</summary>
internal readonly record struct Spot(double X, double Y)
{
    /// <summary>Corners of an ellipse whose first half axis points <paramref name="azimuth"/> radians clockwise from up.</summary>
    public static Spot[] Ellipse(double x, double y, double along, double across, double azimuth, int corners = 48)
    {
        double sin = Math.Sin(azimuth), cos = Math.Cos(azimuth);
        var spots = new Spot[corners];
        for (int i = 0; i < corners; i++)
        {
            double t = 2 * Math.PI * i / corners, a = along * Math.Cos(t), c = across * Math.Sin(t);
            spots[i] = new(x + a * sin + c * cos, y - a * cos + c * sin);
        }
        return spots;
    }
}

/// <summary>A rectangle, millimetres.</summary>
internal readonly record struct Box(double Left, double Top, double Width, double Height)
{
    public double Right => Left + Width;
    public double Bottom => Top + Height;
    public double MiddleX => Left + Width / 2;
    public double MiddleY => Top + Height / 2;
    public bool Overlaps(Box o) => Left < o.Right && o.Left < Right && Top < o.Bottom && o.Top < Bottom;
    public bool Holds(Box o) => o.Left >= Left && o.Right <= Right && o.Top >= Top && o.Bottom <= Bottom;
    public bool Holds(Spot s) => s.X >= Left && s.X <= Right && s.Y >= Top && s.Y <= Bottom;
}

/// <summary>How a line is drawn: millimetres; a dash is as long as its gap.</summary>
internal readonly record struct Pen(Ink Ink, double Width = Tokens.Thin, double Dash = 0);

internal enum Anchor { Start, Middle, End }

/// <summary>How text is set; size in points, rotation in degrees anticlockwise; a plate is a ground that keeps it legible on a picture.</summary>
internal readonly record struct TextStyle(double Size = Tokens.Label, Ink Ink = Ink.Text, Anchor Anchor = Anchor.Start, bool Bold = false, double Turn = 0, bool Plate = false);

/// <summary>A photograph: its bytes, their media type, its size in pixels as they lie in the bytes, and how it is to be turned.</summary>
internal sealed record Picture(byte[] Bytes, string MediaType, int Width, int Height, Turn Turn = default);

/// <summary>How a picture is turned before it is seen, as Exif numbers it: 1 not at all, 3 half around, 6 a quarter clockwise, 8 a quarter anticlockwise; 2, 4, 5 and 7 are mirrored.</summary>
/// <remarks>Exif 2.32, 4.6.5, tag 0x0112.</remarks>
internal readonly record struct Turn(int Number)
{
    /// <summary>Whether width and height change places.</summary>
    public bool IsQuarter => Number >= 5;

    /// <summary>The affine map (x = A·u + C·v + E, y = B·u + D·v + F) from a picture that lies at (0, 0), as wide and high as it is unturned, into a box that it fills when turned.</summary>
    public (double A, double B, double C, double D, double E, double F) Into(Box box) => Number switch
    {
        2 => (-1, 0, 0, 1, box.Right, box.Top),
        3 => (-1, 0, 0, -1, box.Right, box.Bottom),
        4 => (1, 0, 0, -1, box.Left, box.Bottom),
        5 => (0, 1, 1, 0, box.Left, box.Top),
        6 => (0, 1, -1, 0, box.Right, box.Top),
        7 => (0, -1, -1, 0, box.Right, box.Bottom),
        8 => (0, -1, 1, 0, box.Left, box.Bottom),
        _ => (1, 0, 0, 1, box.Left, box.Top),
    };
}

internal abstract record Mark;
internal sealed record PathMark(IReadOnlyList<IReadOnlyList<Spot>> Parts, bool Closed, Pen? Pen, Ink? Fill) : Mark;
internal sealed record TextMark(double X, double Y, string Text, TextStyle Style) : Mark;
internal sealed record ImageMark(Box Box, byte[] Picture, string MediaType, Turn Turn = default) : Mark;
internal sealed record ClipMark(Box Box) : Mark;
internal sealed record EndClipMark : Mark;
