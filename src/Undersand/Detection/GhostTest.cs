using Undersand.Imaging;

namespace Undersand.Detection;

/// <summary>Tests each target for being an echo between seabed, vehicle and sea surface rather than a body.</summary>
/// <remarks>
/// Sound that goes down, up to the vehicle or the surface, down and up again is late by twice that height over the water's speed and is imaged deeper by
/// height × c₂/c₁. A body has one burial, a ghost one for each height: lines flown at different heights decide. Derivation in docs/science/targets.md.
/// </remarks>
internal sealed class GhostTest(Survey survey, EvidenceField field)
{
    // The seabed's ghost is a layer like the seabed, and layers are told apart before; one that looks compact is rare, one that looks like a patch less so. That a
    // strong body's ghost lies below it is commoner. Odds of ghosts to bodies among the peaks of a survey: judgement, no source.
    private const double CompactOdds = 0.002, PatchOdds = 0.05, BelowStrongOdds = 0.05;
    private const double Contradicted = 0.02;

    /// <summary>The target, its probability lowered and a note added where it may be a ghost.</summary>
    public Target Apply(Body body, IReadOnlyList<Body> all)
    {
        var target = body.Target!;
        double odds = 0;
        var notes = new List<string>();
        foreach (var (late, name) in new (Func<Viewpoint, double>, string)[] { (v => v.Height, "the vehicle"), (v => v.VehicleDepth, "the sea surface") })
        {
            double seabed = OddsOf(body, late, 0, body.Target!.Length > 0.5 ? PatchOdds : CompactOdds);
            if (seabed > CompactOdds)
                notes.Add($"At the burial where the seabed's echo to {name} returns.");
            double other = 0;
            foreach (var strong in all)
                if (strong != body && IsAbove(strong, body))
                    other = Math.Max(other, OddsOf(body, late, strong.Target!.BurialDepth.Value, BelowStrongOdds));
            if (other > BelowStrongOdds)
                notes.Add($"Where the echo of the stronger target above it returns from {name}.");
            odds += seabed + other;
        }
        if (odds == 0)
            return target;
        double p = target.Probability.Value / (1 + odds);
        // Kept as log odds where the probability itself is as good as one.
        var lowered = odds < 1e-6 ? target.Probability : Probability.FromValue(p);
        return target with { Probability = lowered, LogBayesFactor = target.LogBayesFactor + lowered.LogOdds - target.Probability.LogOdds, Notes = [.. target.Notes, .. notes] };
    }

    // Ghost to body: a body's burial is anything in the range, a ghost's is within the tolerance; each further line at another height decides again.
    private double OddsOf(Body body, Func<Viewpoint, double> late, double above, double prior)
    {
        double ratio = survey.Sediment.SoundSpeed / survey.Water.SoundSpeed, burial = body.Target!.BurialDepth.Value, range = field.Grid.CountZ * field.Grid.Spacing;
        double odds = 0, before = double.NaN;
        foreach (var line in body.Lines.Where(l => l.View is not null))
        {
            double expected = above + late(line.View!.Value) * ratio, tolerance = 0.5 * line.Blur.Burial + 0.03 * expected;
            bool there = Math.Abs(burial - expected) < tolerance || Math.Abs(field.Grid.BurialAt(body.Seed.Z) - expected) < tolerance;
            if (there && line.Supports)
            {
                if (double.IsNaN(before))
                    odds = prior * range / (2 * tolerance);
                else if (Math.Abs(expected - before) > 0.5 * tolerance)
                    odds *= 2;
                before = expected;
            }
            else if (line.Supports)
                return odds * Contradicted;
        }
        // A line that passed at another height and sees nothing here speaks for the ghost.
        if (!double.IsNaN(before))
            foreach (var line in body.Lines)
                if (!line.Supports && line.View is { } view && Math.Abs(above + late(view) * ratio - before) > line.Blur.Burial)
                    odds *= 3;
        return odds;
    }

    private bool IsAbove(Body strong, Body weak)
    {
        double spacing = field.Grid.Spacing, dx = (strong.Seed.X - weak.Seed.X) * spacing, dy = (strong.Seed.Y - weak.Seed.Y) * spacing;
        return strong.Seed.Ratio > 30 * weak.Seed.Ratio && strong.Seed.Z < weak.Seed.Z && dx * dx + dy * dy < 0.3 * 0.3;
    }
}
