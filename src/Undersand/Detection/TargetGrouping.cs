using Undersand.Imaging;

namespace Undersand.Detection;

/// <summary>Decides which peaks are one thing: its extent, its sidelobes, its ringing, its arc.</summary>
internal sealed class TargetGrouping(EvidenceField field, IImageModel model, NullModel nullModel, SeedSupport support, TargetBuilder builder, GhostTest ghosts, LayerEdgeTest edges)
{
    // A target may be a hull, but flooding stops somewhere.
    private const int GreatestBody = 200_000;
    private const double GreatestReach = 6;
    private readonly List<Body> _bodies = [];
    private readonly LeakRule _leaks = new(field, model);

    /// <param name="seeds">Peaks, those that stand out most in all their lines together first.</param>
    /// <param name="least">Log odds that a target has at least.</param>
    /// <param name="progress">Told the fraction done; may be null.</param>
    /// <param name="cancel">Stops between targets.</param>
    public List<Target> Group(IReadOnlyList<Peak> seeds, double least, IProgress<double>? progress, CancellationToken cancel)
    {
        for (int i = 0; i < seeds.Count; i++)
        {
            cancel.ThrowIfCancellationRequested();
            progress?.Report(i / (double)seeds.Count);
            var seed = seeds[i];
            if (_bodies.Any(b => b.Has(seed) || IsInShadow(seed, b) || IsRinging(seed, seed.Z, b)))
                continue;
            var lines = _leaks.Explain(seed, support.Of(seed), _bodies);
            if (!lines.Any(l => l.Supports))
                continue;
            seed = seed with { Ratio = (float)TileEvidence.Together(lines.Sum(l => Math.Sqrt(l.Ratio)), lines.Count) };
            if (nullModel.ProbabilityOf(seed.Ratio, seed.Lines, seed.Z).LogOdds < least)
                continue;
            var body = new Body(seed, lines, Flood(seed, [.. lines.Where(l => l.Supports)]));
            var target = builder.Build(body);
            body.TopLevel = (target.BurialDepth.Value - field.Grid.FirstBurial) / field.Grid.Spacing;
            body.Target = target;
            // A later echo leads up to an earlier one of the same body.
            if (!_bodies.Any(b => IsRinging(seed, body.TopLevel, b)))
                _bodies.Add(body);
        }
        progress?.Report(1);
        return [.. _bodies.Select(b => edges.Apply(b, ghosts.Apply(b, _bodies)))];
    }

    // A sidelobe is weak beside the body in the same lines and the same unit; its own background may be lower than the body's, so evidence isn't compared.
    private bool IsInShadow(Peak seed, Body body)
    {
        if (Math.Abs(seed.X - body.Seed.X) > 1.1 / field.Grid.Spacing || Math.Abs(seed.Y - body.Seed.Y) > 1.1 / field.Grid.Spacing)
            return false;
        if (PeakFinder.IsInShadow(seed, body.Seed, field.Grid.Spacing))
            return true;
        var supporting = body.Lines.Where(l => l.Supports).ToList();
        var best = support.Of(seed).MaxBy(l => l.Ratio);
        if (best is null || !supporting.Any(l => l.Line == best.Line))
            return false;
        double relative = builder.Weighted(supporting, seed.X, seed.Y, seed.Z) / builder.Weighted(supporting, body.Seed.X, body.Seed.Y, body.Seed.Z);
        return PeakFinder.IsInShadow(seed with { Ratio = (float)(body.Seed.Ratio * Math.Min(relative, 1)) }, body.Seed, field.Grid.Spacing);
    }

    // Later echoes of the same thing: below its top within half a metre or three diameters, over the same place, and no stronger.
    private bool IsRinging(Peak seed, double level, Body body)
    {
        double spacing = field.Grid.Spacing, dx = (seed.X - body.Seed.X) * spacing, dy = (seed.Y - body.Seed.Y) * spacing;
        double size = body.Target?.Length ?? 0, below = (level - body.TopLevel) * spacing;
        double beside = 0.25 + 0.5 * Math.Min(size, 1);
        return dx * dx + dy * dy <= beside * beside && below > -0.1 && below <= Math.Max(0.5, 3 * Math.Min(size, 0.5)) && seed.Ratio < 2 * body.Seed.Ratio;
    }

    // All voxels connected with the seed by energy above −10 dB of its own, in the lines that see it, and by evidence that speaks for itself.
    private HashSet<(int X, int Y, int Z)> Flood(Peak seed, List<LineSupport> lines)
    {
        double spacing = field.Grid.Spacing, energy = 0.1 * builder.Weighted(lines, seed.X, seed.Y, seed.Z);
        float least = (float)Math.Min(nullModel.RatioFor(-4, seed.Lines, seed.Z), 0.5 * seed.Ratio);
        // Along a rough body the echo fades and returns: gaps of a decimetre are bridged.
        int reach = (int)(GreatestReach / spacing), gap = Math.Max(1, (int)Math.Round(0.1 / spacing));
        var body = new HashSet<(int X, int Y, int Z)> { (seed.X, seed.Y, seed.Z) };
        var queue = new Queue<(int X, int Y, int Z)>(body);
        while (queue.TryDequeue(out var v) && body.Count < GreatestBody)
            for (int dz = -1; dz <= 1; dz++)
                for (int dy = -gap; dy <= gap; dy++)
                    for (int dx = -gap; dx <= gap; dx++)
                    {
                        var next = (X: v.X + dx, Y: v.Y + dy, Z: v.Z + dz);
                        if (Math.Abs(next.X - seed.X) > reach || Math.Abs(next.Y - seed.Y) > reach || body.Contains(next))
                            continue;
                        if (field.RatioAt(next.X, next.Y, next.Z) >= least && builder.Weighted(lines, next.X, next.Y, next.Z) >= energy && body.Add(next))
                            queue.Enqueue(next);
                    }
        return body;
    }
}
