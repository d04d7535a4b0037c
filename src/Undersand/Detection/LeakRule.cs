using Undersand.Imaging;

namespace Undersand.Detection;

/// <summary>Takes from a peak what stronger bodies explain: their sidelobes, the repeats of a sparse or uneven array, the arc of a line of one receiver.</summary>
/// <remarks>The image model works out, trace by trace, how strongly a body shows at the peak's place in each line; that much, and a margin, is taken off.</remarks>
internal sealed class LeakRule(EvidenceField field, IImageModel model)
{
    // Between what was predicted and what was met up to 8 dB were seen (simulated arrays): bodies sound differently from each side, seabeds aren't level.
    private const double Margin = 8;
    // Sound from farther off comes in at angles at which hardly any passes the seabed, metres.
    private const double Reach = 4;

    /// <summary>The lines less what may leak to them: those that are explained no longer support the peak.</summary>
    public List<LineSupport> Explain(Peak peak, List<LineSupport> lines, IReadOnlyList<Body> bodies)
    {
        var to = PlaceOf(peak);
        var near = bodies.Where(b => Math.Abs(b.Seed.X - peak.X) * field.Grid.Spacing < Reach && Math.Abs(b.Seed.Y - peak.Y) * field.Grid.Spacing < Reach).ToList();
        return near.Count == 0 ? lines : [.. lines.Select(l => l.Supports ? Explain(l, to, near) : l)];
    }

    private LineSupport Explain(LineSupport line, in BuriedPlace to, List<Body> near)
    {
        double energy = line.Ratio * line.Background, leak = 0;
        foreach (var body in near)
        {
            double strength = StrengthIn(body, line.Line);
            // No leak is stronger than the body itself.
            if (Margin * strength < 0.1 * energy)
                continue;
            double part = model.LeakAt(line.Line, PlaceOf(body.Seed), to);
            leak += part * part * strength;
        }
        double ratio = Math.Max(energy - Margin * leak, 0) / line.Background;
        return line with { Ratio = ratio, Supports = ratio >= LineSupport.Least };
    }

    // In a line that does not see the body where it is, it is as strong as in the others.
    private static double StrengthIn(Body body, int line)
    {
        var own = body.Lines.FirstOrDefault(l => l.Line == line && l.Supports);
        return own is not null ? own.Ratio * own.Background : body.Lines.Where(l => l.Supports).Average(l => l.Ratio * l.Background);
    }

    private BuriedPlace PlaceOf(Peak peak)
    {
        double easting = field.Grid.EastingAt(peak.X), northing = field.Grid.NorthingAt(peak.Y);
        return new(easting, northing, model.SeabedDepthAt(easting, northing), field.Grid.BurialAt(peak.Z));
    }
}
