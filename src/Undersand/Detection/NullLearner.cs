using Undersand.Imaging;

namespace Undersand.Detection;

/// <summary>Turns counted peaks into the null model.</summary>
internal sealed class NullLearner(Survey survey, EvidenceField field, IImageModel model, DetectionSettings settings)
{
    /// <summary>Weakest peaks counted, as a ratio (−4 dB).</summary>
    public static readonly float Least = 0.398f;

    public NullModel Learn(PeakCounts counts, IReadOnlyList<Peak> candidates)
    {
        var grid = field.Grid;
        int levels = grid.CountZ, half = Math.Max(1, (int)Math.Round(settings.BandHeight / grid.Spacing));
        var logOdds = new double[PeakCounts.Classes * levels][];
        var logBayes = new double[PeakCounts.Classes * levels][];
        var tails = new List<NullTail>();
        var centres = Enumerable.Range(0, (levels + half - 1) / half + 1).Select(b => Math.Min(b * half, levels - 1)).Distinct().ToArray();
        var fits = new BandTail[PeakCounts.Classes][];
        for (int lineClass = 0; lineClass < PeakCounts.Classes; lineClass++)
            fits[lineClass] = [.. centres.Select(c => Fit(counts, lineClass, c, half))];
        for (int lineClass = 0; lineClass < PeakCounts.Classes; lineClass++)
        {
            for (int z = 0; z < levels; z++)
                (logOdds[lineClass * levels + z], logBayes[lineClass * levels + z]) = Tables(centres, fits[lineClass], z, levels);
            for (int b = 0; b < centres.Length; b += 2)
                if (Report(lineClass, centres[b], half, fits[lineClass][b]) is { } tail)
                    tails.Add(tail);
        }
        return new(logOdds, logBayes, levels, [.. tails.OrderBy(t => t.FromBurial)], CellVolumeAt(1.0), candidates);
    }

    /// <summary>Volume of the ellipsoid of half amplitude of a point's image, mean over the lines, cubic metres.</summary>
    public double CellVolumeAt(double burial)
    {
        var grid = field.Grid;
        double easting = grid.EastingAt(0.5 * grid.CountX), northing = grid.NorthingAt(0.5 * grid.CountY), voxel = Math.Pow(grid.Spacing, 3), sum = 0;
        foreach (int line in field.Lines)
        {
            var blur = model.BlurAt(line, easting, northing, burial);
            // Across a track that can't tell, the image spreads over an arc; a cell of it is no wider than the ring.
            sum += Math.Max(Math.PI / 6 * blur.Along * Math.Min(blur.Across, settings.RingInner) * blur.Burial, voxel);
        }
        return field.Lines.Count > 0 ? sum / field.Lines.Count : voxel;
    }

    private double ObjectsPerCubicMetre()
    {
        double range = field.Grid.CountZ * field.Grid.Spacing;
        return survey.Prior.ObjectsPerHectare / 1e4 / range;
    }

    private BandTail Fit(PeakCounts counts, int lineClass, int centre, int half)
    {
        var around = PooledCounts.Around(counts, lineClass, centre, field.Grid.Spacing);
        var own = PooledCounts.Own(counts, lineClass, centre, half);
        double voxel = Math.Pow(field.Grid.Spacing, 3), cell = CellVolumeAt(field.Grid.BurialAt(centre)), volume = around.Voxels * voxel;
        var tail = new TailFit(around.Counts, volume / cell, PeakCounts.LinesOf(lineClass), Math.Max(volume * ObjectsPerCubicMetre(), 0.05));
        return new(tail, own, own.Voxels * voxel / cell);
    }

    private (double[] LogOdds, double[] LogBayes) Tables(int[] centres, BandTail[] fits, int z, int levels)
    {
        int b = Math.Max(Array.FindLastIndex(centres, c => c <= z), 0), next = Math.Min(b + 1, centres.Length - 1);
        double fraction = next == b ? 0 : (z - centres[b]) / (double)(centres[next] - centres[b]);
        double logPrior = Math.Log(ObjectsPerCubicMetre() * CellVolumeAt(field.Grid.BurialAt(z)));
        var odds = new double[PeakCounts.Bins];
        var bayes = new double[PeakCounts.Bins];
        // More evidence never means less: below the most common height, peaks are rare for another reason than that objects are common there.
        double least = double.PositiveInfinity;
        for (int i = PeakCounts.Bins - 1; i >= 0; i--)
        {
            double logNull = (1 - fraction) * fits[b].LogDensity(i) + fraction * fits[next].LogDensity(i);
            least = Math.Min(least, LogObjectDensity(PeakCounts.DbOf(i)) - logNull);
            bayes[i] = least;
            odds[i] = least + logPrior;
        }
        return (odds, bayes);
    }

    // Uniform in dB over the stated range, then an exponential for what is stronger still.
    private double LogObjectDensity(double db)
    {
        const double decay = 10;
        double range = settings.ObjectRangeDb;
        return -Math.Log(range + decay) - Math.Max(0, db - range) / decay;
    }

    private NullTail? Report(int lineClass, int centre, int half, BandTail fit)
    {
        double[] own = fit.Own.Counts;
        if (own.Sum() < 100)
            return null;
        var grid = field.Grid;
        var (statistic, measured, fitted, formula) = (new List<double>(), new List<double>(), new List<double>(), new List<double>());
        for (int i = 0; i < PeakCounts.Bins; i += 4)
        {
            double db = PeakCounts.FirstDb + i * PeakCounts.StepDb;
            if (db is < 0 or > 40)
                continue;
            statistic.Add(db);
            measured.Add(own[i..].Sum() / fit.Cells);
            fitted.Add(fit.Exceedance(i));
            formula.Add(CoherenceStatistics.MeanAmplitudeExceedance(Math.Pow(10, db / 10), PeakCounts.LinesOf(lineClass)));
        }
        return new(grid.BurialAt(Math.Max(centre - half, 0)), grid.BurialAt(Math.Min(centre + half, grid.CountZ - 1)), statistic, measured, fitted, formula);
    }
}
