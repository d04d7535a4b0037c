namespace Undersand.Runs.Reporting;

/// <summary>A map's frame: scale, coordinates, scale bar, grid north; others draw inside it.</summary>
internal sealed class MapFrame
{
    private const double Gutter = 6, Footer = 15, BarWidth = 17;

    private readonly double _mmPerMetre;

    /// <param name="extent">What must be shown; more is, to fill the frame.</param>
    /// <param name="epsg">The reference system.</param>
    /// <param name="legend">Height kept free under the map, millimetres.</param>
    /// <param name="bar">Whether a colour bar stands at the right.</param>
    /// <param name="tallest">Millimetres.</param>
    /// <param name="denominator">A scale that is given, or the largest round one that fits.</param>
    public MapFrame(Extent extent, int epsg, double legend = 0, bool bar = false, double tallest = 150, double? denominator = null)
    {
        double width = Tokens.TextWidth - Gutter - (bar ? BarWidth : 0);
        Denominator = denominator ?? Scales.Denominator(Math.Max(extent.Width / width, extent.Height / tallest) * 1000);
        _mmPerMetre = 1000 / Denominator;
        double height = Math.Clamp(extent.Height * _mmPerMetre, 42, tallest);
        Map = new(Gutter, 1, width, height);
        double e = (extent.West + extent.East) / 2, n = (extent.South + extent.North) / 2;
        Extent = new(e - width / 2 / _mmPerMetre, n - height / 2 / _mmPerMetre, e + width / 2 / _mmPerMetre, n + height / 2 / _mmPerMetre);
        Drawing = new(Tokens.TextWidth, height + 1 + Footer + legend);
        Epsg = epsg;
    }

    public Drawing Drawing { get; }

    /// <summary>Where the map lies in the drawing.</summary>
    public Box Map { get; }

    /// <summary>The ground that it shows.</summary>
    public Extent Extent { get; }

    /// <summary>The scale is one to this, printed at full size.</summary>
    public double Denominator { get; }

    public int Epsg { get; }

    /// <summary>Where the legend begins.</summary>
    public double LegendTop => Map.Bottom + Footer;

    public double Millimetres(double metres) => metres * _mmPerMetre;

    public Spot At(double easting, double northing) => new(Map.Left + (easting - Extent.West) * _mmPerMetre, Map.Bottom - (northing - Extent.South) * _mmPerMetre);

    public (double Easting, double Northing) Ground(Spot spot) => (Extent.West + (spot.X - Map.Left) / _mmPerMetre, Extent.South + (Map.Bottom - spot.Y) / _mmPerMetre);

    /// <summary>Draws a raster's picture in its place.</summary>
    public void Raster(Raster raster, ColourMap map, double low, double high, bool greatest, double above = double.NegativeInfinity)
    {
        if (Pixels.Map(raster, Extent, map, low, high, greatest, above) is not { } picture)
            return;
        Spot corner = At(picture.Extent.West, picture.Extent.North);
        Drawing.Clip(Map, () => Drawing.Image(new(corner.X, corner.Y, Millimetres(picture.Extent.Width), Millimetres(picture.Extent.Height)), picture.Png));
    }

    /// <summary>A colour bar at the right.</summary>
    public void Bar(ColourMap map, double low, double high, string title, bool downwards = false) =>
        ColourBar.Draw(Drawing, new(Map.Right + 4, Map.Top, 3.5, Math.Min(Map.Height, 60)), map, low, high, title, downwards);

    /// <summary>Frame, coordinates, scale bar and north: last, over all else.</summary>
    public void Finish()
    {
        Coordinates();
        Drawing.Box(Map, new(Ink.Text, Tokens.Pen), null);
        ScaleBar();
        North();
    }

    private void Coordinates()
    {
        double step = Scales.Step(Math.Max(Extent.Width, Extent.Height), 6);
        int decimals = Scales.Decimals(step);
        var crosses = new List<Spot[]>();
        double[] eastings = [.. Scales.Ticks(Extent.West, Extent.East, step)], northings = [.. Scales.Ticks(Extent.South, Extent.North, step)];
        foreach (double e in eastings)
        {
            double x = At(e, 0).X;
            Drawing.Line(x, Map.Bottom, x, Map.Bottom + 1.2, new(Ink.Text));
            Drawing.Text(x, Map.Bottom + 3.9, Numbers.Fixed(e, decimals), new(Tokens.LabelSmall, Ink.Soft, Anchor.Middle));
            foreach (double n in northings)
            {
                double y = At(0, n).Y;
                crosses.Add([new(x - 1, y), new(x + 1, y)]);
                crosses.Add([new(x, y - 1), new(x, y + 1)]);
            }
        }
        foreach (double n in northings)
        {
            double y = At(0, n).Y;
            Drawing.Line(Map.Left - 1.2, y, Map.Left, y, new(Ink.Text));
            Drawing.Text(Map.Left - 2, y, Numbers.Fixed(n, decimals), new(Tokens.LabelSmall, Ink.Soft, Anchor.Middle, Turn: 90));
        }
        Drawing.Clip(Map, () => Drawing.Path(crosses, new(Ink.Soft, Tokens.Hair)));
    }

    private void ScaleBar()
    {
        double longest = 60 / _mmPerMetre, power = Math.Pow(10, Math.Floor(Math.Log10(longest)));
        double length = power * (longest >= 4 * power ? 4 : longest >= 2 * power ? 2 : 1);
        double left = Map.Left, top = Map.Bottom + 7.6, part = Millimetres(length) / 4;
        for (int i = 0; i < 4; i++)
            Drawing.Box(new(left + i * part, top, part, 1.3), new(Ink.Text, Tokens.Hair), i % 2 == 0 ? Ink.Text : Ink.Paper);
        for (int i = 0; i <= 4; i += 2)
        {
            double metres = length * i / 4;
            Drawing.Text(left + i * part, top + 4.2, Numbers.Fixed(metres, Scales.Decimals(length / 2)) + (i == 4 ? " m" : ""), new(Tokens.Label, Ink.Text, i == 0 ? Anchor.Start : Anchor.Middle));
        }
        Drawing.Text(left + 4 * part + 9, top + 1.3, $"1 : {Numbers.Fixed(Denominator, 0)} printed at full size", new(Tokens.Label, Ink.Soft));
        Drawing.Text(left + 4 * part + 9, top + 4.2, $"EPSG:{Epsg}, easting and northing in metres", new(Tokens.Label, Ink.Soft));
    }

    private void North()
    {
        double x = Map.Right - 4, top = Map.Bottom + 5.8;
        Drawing.Shape([new(x, top), new(x + 1.7, top + 5.6), new(x, top + 4.4), new(x - 1.7, top + 5.6)], new(Ink.Text, Tokens.Hair), Ink.Text);
        Drawing.Text(x - 3.2, top + 4.6, "Grid north", new(Tokens.Label, Ink.Soft, Anchor.End));
    }
}
