namespace Undersand.Runs.Reporting;

/// <summary>A colour by its job; what it looks like differs by day, by night and on paper.</summary>
public enum Ink
{
    /// <summary>Text and everything that must be read.</summary>
    Text,
    /// <summary>Text of second rank, axes.</summary>
    Soft,
    /// <summary>Rules and graticules.</summary>
    Rule,
    /// <summary>The ground of everything.</summary>
    Paper,
    /// <summary>A tinted ground.</summary>
    Shade,
    /// <summary>Survey lines and whatever belongs to the survey itself.</summary>
    Track,
    /// <summary>Targets.</summary>
    Target,
    /// <summary>Danger to people.</summary>
    Danger,
    /// <summary>The ground of a danger.</summary>
    DangerShade,
}

/// <summary>The report's type, spacing and colours, in one place.</summary>
internal static class Tokens
{
    // Paper, millimetres.
    public const double PageWidth = 210, PageHeight = 297, Margin = 18, MarginTop = 22, MarginBottom = 20;
    public const double TextWidth = PageWidth - 2 * Margin;
    public const double TallestFigure = 196;

    // Type, points. A drawing's text is one of the last two.
    public const double Title = 25, Heading1 = 15.5, Heading2 = 11.5, Body = 9.4, Small = 8, Label = 7, LabelSmall = 6.2;
    public const double LineHeight = 1.42;

    // Spacing, millimetres: one step and its multiples.
    public const double Step = 2;

    // Pens, millimetres.
    public const double Hair = 0.12, Thin = 0.2, Pen = 0.35, Bold = 0.55;

    public const double PointsPerMm = 72 / 25.4;

    /// <summary>Name in style sheets, by day and on paper, by night (warm and dim, for eyes that go back to the dark).</summary>
    public static readonly IReadOnlyDictionary<Ink, (string Name, string Day, string Night)> Inks = new Dictionary<Ink, (string, string, string)>
    {
        [Ink.Text] = ("text", "#14202a", "#e4dace"),
        [Ink.Soft] = ("soft", "#4c5a65", "#aea294"),
        [Ink.Rule] = ("rule", "#c3ccd2", "#5c554d"),
        [Ink.Paper] = ("paper", "#ffffff", "#141210"),
        [Ink.Shade] = ("shade", "#eef2f4", "#1f1c19"),
        [Ink.Track] = ("track", "#1c5d7d", "#8fb0bd"),
        [Ink.Target] = ("target", "#b23c0a", "#ff9866"),
        [Ink.Danger] = ("danger", "#94191c", "#ff9d8c"),
        [Ink.DangerShade] = ("danger-shade", "#fbeeec", "#2c1714"),
    };
}
