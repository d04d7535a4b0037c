namespace Undersand.Runs.Reporting;

/// <summary>A photograph, as large as half a page at most.</summary>
internal static class PhotographFigure
{
    private const double Tallest = 110;

    public static Drawing Draw(Picture picture)
    {
        double shape = picture.Turn.IsQuarter ? (double)picture.Height / picture.Width : (double)picture.Width / picture.Height;
        double wide = Math.Min(Tokens.TextWidth, Tallest * shape), tall = wide / shape;
        var drawing = new Drawing(Tokens.TextWidth, tall);
        drawing.Image(new(0, 0, wide, tall), picture);
        return drawing;
    }
}
