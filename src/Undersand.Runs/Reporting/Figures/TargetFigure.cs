namespace Undersand.Runs.Reporting;

/// <summary>A target's surroundings from above and in two sections, at one scale, burial downwards.</summary>
internal sealed class TargetFigure
{
    private const double Left = 11, Between = 12, BarRoom = 15, Top = 5, Axis = 9.5, Weakest = -30;

    private readonly Target _target;
    private readonly TargetView _view;
    private readonly double _scale, _panel;
    private readonly Drawing _drawing;

    private TargetFigure(Target target, TargetView view)
    {
        _target = target;
        _view = view;
        _panel = (Tokens.TextWidth - Left - 2 * Between - BarRoom) / 3;
        double wide = Math.Max(view.Plan.CountX * view.Plan.Spacing, Math.Max(Length(view.EastWest), Length(view.SouthNorth)));
        double tall = Math.Max(view.Plan.CountY * view.Plan.Spacing, Math.Max(Deep(view.EastWest), Deep(view.SouthNorth)));
        _scale = Math.Min(_panel / wide, 75 / tall);
        _drawing = new(Tokens.TextWidth, Top + tall * _scale + Axis);
    }

    public static Drawing Draw(Target target, TargetView view)
    {
        var figure = new TargetFigure(target, view);
        figure.Plan();
        figure.Section(1, view.EastWest, target.Position.Easting, "West–east section", "m east of target");
        figure.Section(2, view.SouthNorth, target.Position.Northing, "South–north section", "m north of target");
        double height = Math.Min(figure._drawing.Height - Axis - 0.5, 48);
        ColourBar.Draw(figure._drawing, new(Tokens.TextWidth - BarRoom + 3, 0.2, 3, height), ColourMap.Amplitude, Weakest, 0, "dB re peak");
        return figure._drawing;
    }

    private static double Length(Section s) => s.Count * s.Spacing;

    // The panel begins a little above the seabed, so that burial is seen from where it is counted.
    private static double First(Section s) => Math.Min(s.FirstBurial - s.BurialSpacing / 2, -0.1);

    private static double Deep(Section s) => s.FirstBurial + (s.BurialCount - 0.5) * s.BurialSpacing - First(s);

    private double PanelLeft(int panel) => Left + panel * (_panel + Between);

    private void Plan()
    {
        Raster plan = _view.Plan;
        var box = new Box(PanelLeft(0), Top, plan.CountX * plan.Spacing * _scale, plan.CountY * plan.Spacing * _scale);
        double west = plan.OriginEasting - plan.Spacing / 2, south = plan.OriginNorthing - plan.Spacing / 2;
        var all = new Extent(west, south, west + plan.CountX * plan.Spacing, south + plan.CountY * plan.Spacing);
        if (Pixels.Map(plan, all, ColourMap.Amplitude, Weakest, 0, greatest: true) is { } picture)
            _drawing.Image(new(box.Left + (picture.Extent.West - west) * _scale, box.Top + (all.North - picture.Extent.North) * _scale, picture.Extent.Width * _scale, picture.Extent.Height * _scale), picture.Png);
        var at = new Spot(box.Left + (_target.Position.Easting - west) * _scale, box.Bottom - (_target.Position.Northing - south) * _scale);
        _drawing.Clip(box, () =>
        {
            if (TargetMarks.Outline(_target, at, _scale) is Spot[] outline)
                _drawing.Shape(outline, new(Ink.Target, Tokens.Pen), null);
            _drawing.Shape(Spot.Ellipse(at.X, at.Y, _target.EllipseMajor * _scale, _target.EllipseMinor * _scale, _target.EllipseAzimuth.Radians), new(Ink.Target, Tokens.Pen, 0.8), null);
        });
        Frame(box, "From above", "m east of target", "m north of target");
        AxisBelow(box, west - _target.Position.Easting);
        double low = south - _target.Position.Northing;
        AxisLeft(box, low, tick => box.Bottom - (tick - low) * _scale);
    }

    private void Section(int panel, Section section, double centre, string title, string below)
    {
        var box = new Box(PanelLeft(panel), Top, Length(section) * _scale, Deep(section) * _scale);
        double start = section.Start - section.Spacing / 2, first = First(section);
        double imaged = section.FirstBurial - section.BurialSpacing / 2 - first;
        _drawing.Image(new(box.Left, box.Top + imaged * _scale, box.Width, box.Height - imaged * _scale), Pixels.Section(section, ColourMap.Amplitude, Weakest, 0));
        double x = box.Left + (centre - start) * _scale, y = box.Top + (_target.BurialDepth.Value - first) * _scale, sd = _target.BurialDepth.StandardDeviation * _scale;
        _drawing.Clip(box, () =>
        {
            var pen = new Pen(Ink.Target, Tokens.Pen);
            double half = (_target.Length ?? _target.Width ?? 0.2) / 2 * _scale;
            foreach (double edge in (double[])[x - half - 2.8, x + half + 2.8])
            {
                _drawing.Line(edge - 1.2, y, edge + 1.2, y, pen);
                _drawing.Line(edge, y - sd, edge, y + sd, pen);
            }
            _drawing.Line(box.Left, box.Top - first * _scale, box.Right, box.Top - first * _scale, new(Ink.Track, Tokens.Pen));
        });
        Frame(box, title, below, "burial, m");
        AxisBelow(box, start - centre);
        AxisLeft(box, first, tick => box.Top + (tick - first) * _scale);
    }

    private void Frame(Box box, string title, string below, string left)
    {
        _drawing.Box(box, new(Ink.Text, Tokens.Pen), null);
        _drawing.Text(box.Left, box.Top - 1.6, title, new(Tokens.Label, Bold: true));
        _drawing.Text(box.MiddleX, box.Bottom + 7.6, below, new(Tokens.Label, Ink.Soft, Anchor.Middle));
        _drawing.Text(box.Left - 7.4, box.MiddleY, left, new(Tokens.Label, Ink.Soft, Anchor.Middle, Turn: 90));
    }

    private void AxisBelow(Box box, double low)
    {
        double span = box.Width / _scale, step = Scales.Step(span, 6);
        foreach (double tick in Scales.Ticks(low, low + span, step))
        {
            double x = box.Left + (tick - low) * _scale;
            _drawing.Line(x, box.Bottom, x, box.Bottom + 1, new(Ink.Text));
            _drawing.Text(x, box.Bottom + 3.9, Numbers.Fixed(tick, Scales.Decimals(step)), new(Tokens.Label, Anchor: Anchor.Middle));
        }
    }

    private void AxisLeft(Box box, double low, Func<double, double> place)
    {
        double span = box.Height / _scale, step = Scales.Step(span, 7);
        foreach (double tick in Scales.Ticks(low, low + span, step))
        {
            _drawing.Line(box.Left - 1, place(tick), box.Left, place(tick), new(Ink.Text));
            _drawing.Text(box.Left - 1.6, place(tick) + 0.9, Numbers.Fixed(tick, Scales.Decimals(step)), new(Tokens.Label, Anchor: Anchor.End));
        }
    }
}
