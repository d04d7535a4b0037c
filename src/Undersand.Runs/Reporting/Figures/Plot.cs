namespace Undersand.Runs.Reporting;

/// <summary>A small plot with round ticks; y grows upwards, or downwards where its range is given the other way round.</summary>
internal sealed class Plot
{
    private readonly Drawing _drawing;
    private readonly Box _box;
    private readonly double _x0, _x1, _y0, _y1;

    /// <param name="drawing">Where.</param>
    /// <param name="box">The frame; labels stand outside it.</param>
    /// <param name="x0">Value at the left.</param>
    /// <param name="x1">Value at the right.</param>
    /// <param name="y0">Value at the bottom.</param>
    /// <param name="y1">Value at the top.</param>
    public Plot(Drawing drawing, Box box, double x0, double x1, double y0, double y1)
    {
        (_drawing, _box, _x0, _x1, _y0, _y1) = (drawing, box, x0, x1, y0, y1);
        if (_x1 - _x0 < 1e-9)
            _x1 = _x0 + 1;
        if (Math.Abs(_y1 - _y0) < 1e-9)
            _y1 = _y0 + 1;
    }

    public Spot At(double x, double y) => new(_box.Left + (x - _x0) / (_x1 - _x0) * _box.Width, _box.Bottom - (y - _y0) / (_y1 - _y0) * _box.Height);

    public void Curve(IEnumerable<(double X, double Y)> points, Pen pen)
    {
        var parts = new List<IReadOnlyList<Spot>>();
        var part = new List<Spot>();
        foreach ((double x, double y) in points)
            if (double.IsFinite(x) && double.IsFinite(y))
            {
                Spot spot = At(x, y);
                if (part.Count == 0 || Math.Abs(spot.X - part[^1].X) + Math.Abs(spot.Y - part[^1].Y) > 0.08)
                    part.Add(spot);
            }
            else if (part.Count > 0)
            {
                parts.Add(part);
                part = [];
            }
        parts.Add(part);
        parts.RemoveAll(p => p.Count < 2);
        _drawing.Clip(_box, () => _drawing.Path(parts, pen));
    }

    public void Dots(IEnumerable<(double X, double Y)> points, Ink ink)
    {
        Spot? last = null;
        foreach ((double x, double y) in points)
        {
            Spot spot = double.IsFinite(y) ? At(x, y) : default;
            if (!double.IsFinite(y) || !_box.Holds(spot) || (last is Spot l && Math.Abs(spot.X - l.X) + Math.Abs(spot.Y - l.Y) < 0.9))
                continue;
            _drawing.Disc(spot.X, spot.Y, 0.42, null, ink);
            last = spot;
        }
    }

    public void Frame(string title, string xLabel, string yLabel, int xParts = 5, int yParts = 4, Func<double, string>? yText = null)
    {
        double xStep = Scales.Step(_x1 - _x0, xParts), yStep = Scales.Step(Math.Abs(_y1 - _y0), yParts);
        if (yText is not null)
            yStep = Math.Max(1, yStep);
        foreach (double tick in Scales.Ticks(_x0, _x1, xStep))
        {
            double x = At(tick, _y0).X;
            _drawing.Line(x, _box.Bottom, x, _box.Bottom + 0.9, new(Ink.Text));
            _drawing.Text(x, _box.Bottom + 3.5, Numbers.Fixed(tick, Scales.Decimals(xStep)), new(Tokens.LabelSmall, Anchor: Anchor.Middle));
        }
        foreach (double tick in Scales.Ticks(Math.Min(_y0, _y1), Math.Max(_y0, _y1), yStep))
        {
            double y = At(_x0, tick).Y;
            _drawing.Line(_box.Left, y, _box.Right, y, new(Ink.Rule, Tokens.Hair));
            _drawing.Text(_box.Left - 1, y + 0.8, yText?.Invoke(tick) ?? Numbers.Fixed(tick, Scales.Decimals(yStep)), new(Tokens.LabelSmall, Anchor: Anchor.End));
        }
        _drawing.Box(_box, new(Ink.Soft, Tokens.Thin), null);
        _drawing.Text(_box.Left, _box.Top - 1.3, title, new(Tokens.Label, Bold: true));
        if (xLabel.Length > 0)
            _drawing.Text(_box.MiddleX, _box.Bottom + 6.8, xLabel, new(Tokens.LabelSmall, Ink.Soft, Anchor.Middle));
        if (yLabel.Length > 0)
            _drawing.Text(_box.Left - 8.6, _box.MiddleY, yLabel, new(Tokens.LabelSmall, Ink.Soft, Anchor.Middle, Turn: 90));
    }
}
