namespace Undersand.Detection;

/// <summary>Tests a target for being the strip of a layer that one line sees by mirror reflection: narrow across the track, long along it.</summary>
/// <remarks>
/// A line sees a layer only where the mirror-like path falls on its receivers, a strip along the track, whose rim leaves empty sectors like a long body's.
/// A body has its own direction, the strip has the track's, and only one line's: another line that supports it clears it.
/// </remarks>
internal sealed class LayerEdgeTest(EvidenceField field)
{
    // Of long narrow things of one line that lie within ten degrees of its track, nine in ten are such strips; bodies lie so in one case of nine. Judgement, no source.
    private const double Odds = 20;
    private const double LeastLength = 1.2;

    /// <summary>The target, its probability lowered and a note added where it may be such a strip.</summary>
    public Target Apply(Body body, Target target)
    {
        var supporting = body.Lines.Where(l => l.Supports).ToList();
        if (supporting.Count != 1 || supporting[0].View is not { } view)
            return target;
        double s = Math.Sin(view.TrackAzimuth.Radians), c = Math.Cos(view.TrackAzimuth.Radians), spacing = field.Grid.Spacing;
        var along = body.Voxels.Select(v => spacing * (v.X * s + v.Y * c)).ToList();
        var across = body.Voxels.Select(v => spacing * (v.X * c - v.Y * s)).ToList();
        double length = along.Max() - along.Min(), width = across.Max() - across.Min();
        // Across its track a line blurs more; the strip is at least six times as long as wide where that is taken into account.
        if (length < LeastLength || length < 6 * Math.Max(width - supporting[0].Blur.Across, spacing))
            return target;
        var lowered = Probability.FromValue(target.Probability.Value / (1 + Odds));
        return target with
        {
            Probability = lowered,
            LogBayesFactor = target.LogBayesFactor + lowered.LogOdds - target.Probability.LogOdds,
            Notes = [.. target.Notes, "Long and narrow along the track of the only line that shows it, as the rim of a layer is."],
        };
    }
}
