namespace Undersand.Runs.Reporting;

/// <summary>The standing cautions, before anything that could send someone out.</summary>
/// <remarks>
/// Heritage: UNESCO Convention on the Protection of the Underwater Cultural Heritage, 2001, Annex, Rules 1 to 5. Marine mammals: titles of
/// NMFS-OPR-59 (2018) and of version 3.0 (89 FR 84872, 2024). What carries no source is common practice.
/// </remarks>
internal static class Safety
{
    /// <summary>Holds for whatever has positions in it.</summary>
    /// <param name="what">What has them: “report”.</param>
    public static string Share(string what) => $"Positions of finds can invite looting. Share this {what} only with those entitled to it.";

    public static readonly Paragraph Sensitive = new(Share("report"), "Positions are sensitive.");

    /// <summary>For every page that could send someone to a target.</summary>
    public static readonly Paragraph Cables = new("Buried cables and pipelines may lie in the area and look like targets. Ask their operators and the chart authority before any intrusion.", "Cables and pipelines.");

    /// <summary>For every page that could send someone to a target.</summary>
    public static readonly Paragraph Ordnance = new("What is buried may be unexploded ordnance, and this survey cannot tell: a material it names is a hint at most and often wrong, and in our trials iron was named iron only in about a third of cases. Treat every target as possible ordnance until specialists say otherwise: do not touch, probe, dredge or lift it. Stop, mark the place, keep off, and tell the competent authority.", "Ordnance.");

    public static IReadOnlyList<Paragraph> Dangers { get; } =
    [
        Ordnance,
        new("If bones, a grave or what may be one come to light: stop, cover them again, leave everything in its place, and report to the police and the heritage authority. Human remains are not to be disturbed without need (UNESCO 2001, Annex, Rule 5); a wreck may be a grave even where nothing is seen.", "Human remains and graves."),
        Cables,
        new("Diving, wading and working on tidal flats are to be planned by competent people under the rules of the place.", "Diving and tidal flats."),
    ];

    public static IReadOnlyList<Paragraph> Duties { get; } =
    [
        new("A target in this report is a place to look, not a permission to dig. National law on wrecks, antiquities and the foreshore decides; licences are sought before any work.", "Law."),
        new("Preservation where it lies is the first option to be considered (UNESCO Convention on the Protection of the Underwater Cultural Heritage, 2001, Annex, Rule 1). Prefer methods that do not touch it, and disturb no more than the aim needs (Rules 3 and 4).", "Leave it in place first."),
        new("Underwater heritage may not be traded or irretrievably dispersed (Rule 2).", "No trade."),
        Sensitive,
        new("Sound sources may disturb or injure marine mammals and fish. Check the thresholds and seasons that apply where you work; in the United States: NMFS 2018 (NOAA Technical Memorandum NMFS-OPR-59, version 2.0) and NMFS 2024 (version 3.0, 89 FR 84872). No threshold is reproduced here.", "Sound and marine life."),
        new("This is no nautical chart; its depths are not for navigation. Traffic, anchoring and collision rules (COLREG 1972) apply while surveying.", "Not a chart."),
    ];

    public static IReadOnlyList<Paragraph> Limits { get; } =
    [
        new("For each place the report states what size and burial could have been seen. Outside that, an object may lie there unseen.", "Absence of a target is not absence of an object."),
        new("Gas, peat, shell beds, boulders, fishing gear and modern debris give echoes like those of finds. Degraded timber may give a weak, a negative or no echo.", "Look-alikes."),
        new("A stated probability is a degree of belief under the stated prior. Revise it with each place that is opened, whether something was found or not.", "Probability."),
        new("Depth of burial rests on an assumed speed of sound in the sediment; the assumptions give that speed, its source and the error it brings.", "Burial."),
    ];

    public static IEnumerable<Block> Blocks()
    {
        yield return new Heading(1, "Before anyone goes there", "cautions");
        yield return new Notice("Danger to people", Dangers, Danger: true);
        yield return new Notice("Duties", Duties, Danger: false);
        yield return new Notice("Limits of what sound can tell", Limits, Danger: false);
    }
}
