namespace Undersand.Runs.Reporting;

/// <summary>A photograph, as large as half a page at most.</summary>
internal static class PhotographFigure
{
    private const double Tallest = 110;

    public static Drawing Draw(Picture picture)
    {
        double wide = Math.Min(Tokens.TextWidth, Tallest * picture.Width / picture.Height), tall = wide * picture.Height / picture.Width;
        var drawing = new Drawing(Tokens.TextWidth, tall);
        drawing.Image(new(0, 0, wide, tall), picture.Bytes, picture.MediaType);
        return drawing;
    }
}
