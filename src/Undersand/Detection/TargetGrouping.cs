using Undersand.Imaging;

namespace Undersand.Detection;

/// <summary>Decides which peaks are one thing: its extent, its sidelobes, its ringing, its arc.</summary>
internal sealed class TargetGrouping(EvidenceField field, IImageModel model, NullModel nullModel, TargetBuilder builder, GhostTest ghosts)
{
    // A target may be a hull, but flooding stops somewhere.
    private const int GreatestBody = 200_000;
    private const double GreatestReach = 6;
    private readonly List<Body> _bodies = [];

    /// <param name="seeds">Peaks, strongest first.</param>
    /// <param name="progress">Told the fraction done; may be null.</param>
    /// <param name="cancel">Stops between targets.</param>
    public List<Target> Group(IReadOnlyList<Peak> seeds, IProgress<double>? progress, CancellationToken cancel)
    {
        for (int i = 0; i < seeds.Count; i++)
        {
            cancel.ThrowIfCancellationRequested();
            progress?.Report(i / (double)seeds.Count);
            var seed = seeds[i];
            if (_bodies.Any(b => b.Has(seed) || PeakFinder.IsInShadow(seed, b.Seed, field.Grid.Spacing) || IsRinging(seed, b)))
                continue;
            var lines = LineSupport.At(field, model, seed.X, seed.Y, seed.Z);
            if (lines.Count == 0 || _bodies.Any(b => ArcRule.IsSameEcho(seed, lines, b, field, model)))
                continue;
            var body = new Body(seed, lines, Flood(seed));
            var target = builder.Build(body);
            body.TopLevel = (target.BurialDepth.Value - field.Grid.FirstBurial) / field.Grid.Spacing;
            body.Target = target;
            // A sidelobe under a body leads up to that body's own first arrival.
            if (!_bodies.Any(b => IsSamePlace(target, b.Target!)))
                _bodies.Add(body);
        }
        progress?.Report(1);
        return [.. _bodies.Select(b => ghosts.Apply(b, _bodies))];
    }

    private static bool IsSamePlace(Target a, Target b) =>
        a.Position.HorizontalDistanceTo(b.Position) < 0.15 && Math.Abs(a.BurialDepth.Value - b.BurialDepth.Value) < 0.1;

    // Later echoes of the same thing: below its top within half a metre or three diameters, over the same place, and no stronger.
    private bool IsRinging(Peak seed, Body body)
    {
        double spacing = field.Grid.Spacing, dx = (seed.X - body.Seed.X) * spacing, dy = (seed.Y - body.Seed.Y) * spacing;
        double size = body.Target?.Length ?? 0, below = (seed.Z - body.TopLevel) * spacing;
        double beside = 0.25 + 0.5 * Math.Min(size, 1);
        return dx * dx + dy * dy <= beside * beside && below > -0.1 && below <= Math.Max(0.5, 3 * Math.Min(size, 0.5)) && seed.Ratio < 2 * body.Seed.Ratio;
    }

    // All voxels connected with the seed by evidence above −10 dB of it, and that speaks for itself.
    private HashSet<(int X, int Y, int Z)> Flood(Peak seed)
    {
        double spacing = field.Grid.Spacing, floor = nullModel.RatioFor(-4, seed.Lines, seed.Z);
        float least = (float)Math.Min(Math.Max(0.1 * seed.Ratio, floor), 0.5 * seed.Ratio);
        int reach = (int)(GreatestReach / spacing);
        var body = new HashSet<(int X, int Y, int Z)> { (seed.X, seed.Y, seed.Z) };
        var queue = new Queue<(int X, int Y, int Z)>(body);
        while (queue.TryDequeue(out var v) && body.Count < GreatestBody)
            for (int dz = -1; dz <= 1; dz++)
                for (int dy = -1; dy <= 1; dy++)
                    for (int dx = -1; dx <= 1; dx++)
                    {
                        var next = (X: v.X + dx, Y: v.Y + dy, Z: v.Z + dz);
                        if (Math.Abs(next.X - seed.X) > reach || Math.Abs(next.Y - seed.Y) > reach || body.Contains(next))
                            continue;
                        if (field.RatioAt(next.X, next.Y, next.Z) >= least && body.Add(next))
                            queue.Enqueue(next);
                    }
        return body;
    }
}
