namespace Undersand.Imaging.Seabed;

/// <summary>How much deeper each line found the seabed than the others did where they overlap: tide, height and draught errors.</summary>
/// <remarks>
/// Least squares over all cells, half a metre wide, that more than one line crosses, with a slight pull to zero that settles what the differences leave open.
/// Solved by conjugate gradients (Hestenes and Stiefel 1952, J. Res. NBS 49, 409–436), which also carries a difference along a chain of many lines.
/// </remarks>
/// <param name="Offsets">The offsets, metres, positive where a line lies deeper; 0 for a line that meets no other.</param>
/// <param name="Steps">The same against the first line that each hangs together with, in whole steps of <see cref="Step"/>: lines that come later leave them as they are, or nearly always.</param>
internal sealed record MisTies(double[] Offsets, double[] Steps)
{
    /// <summary>Metres. A power of two, so that sums with it are exact.</summary>
    public const double Step = 1.0 / 256;

    private const double CellWidth = 0.5, Pull = 1e-6;

    /// <summary>Solves for them.</summary>
    public static MisTies Of(GridPoint[][] picks, PickGrid grid)
    {
        int n = picks.Length;
        var right = new double[n];
        var ties = new SortedDictionary<(int, int), double>();
        foreach (var cell in Shared(picks, grid))
            for (int a = 0; a < cell.Length; a++)
                for (int b = a + 1; b < cell.Length; b++)
                {
                    // A cell counts once, however many lines cross in it.
                    double weight = 1.0 / (cell.Length - 1), difference = cell[a].Depth - cell[b].Depth;
                    ties[(cell[a].Line, cell[b].Line)] = ties.GetValueOrDefault((cell[a].Line, cell[b].Line)) + weight;
                    right[cell[a].Line] += weight * difference;
                    right[cell[b].Line] -= weight * difference;
                }
        double[] offsets = ConjugateGradients(right, x => Apply(x, ties));
        int[] first = Firsts(n, ties.Keys);
        return new(offsets, [.. offsets.Select((x, i) => Math.Round((x - offsets[first[i]]) / Step) * Step)]);
    }

    // The first line that each is tied to, over any number of others.
    private static int[] Firsts(int lines, IReadOnlyCollection<(int, int)> ties)
    {
        int[] first = [.. Enumerable.Range(0, lines)];
        for (bool settled = false; !settled;)
        {
            settled = true;
            foreach (var (a, b) in ties)
                if (first[a] != first[b])
                    (first[a], first[b], settled) = (Math.Min(first[a], first[b]), Math.Min(first[a], first[b]), false);
        }
        return first;
    }

    /// <summary>Cells that several lines cross, with each one's mean depth.</summary>
    private static IEnumerable<(int Line, double Depth)[]> Shared(GridPoint[][] picks, PickGrid grid)
    {
        int coarse = Math.Max(1, (int)Math.Round(CellWidth / grid.Spacing)), width = grid.CountX / coarse + 1;
        var cells = new SortedDictionary<int, SortedDictionary<int, (double Sum, int Count)>>();
        for (int i = 0; i < picks.Length; i++)
            foreach (var pick in picks[i])
                if (grid.CellOf(pick.Easting, pick.Northing) is >= 0 and int fine)
                {
                    int cell = fine / grid.CountX / coarse * width + fine % grid.CountX / coarse;
                    if (!cells.TryGetValue(cell, out var lines))
                        cells[cell] = lines = [];
                    var (sum, count) = lines.GetValueOrDefault(i);
                    lines[i] = (sum + pick.Depth, count + 1);
                }
        return cells.Values.Where(c => c.Count > 1).Select(c => c.Select(l => (l.Key, l.Value.Sum / l.Value.Count)).ToArray());
    }

    private static double[] Apply(double[] x, SortedDictionary<(int, int), double> ties)
    {
        var y = Array.ConvertAll(x, v => Pull * v);
        foreach (var ((a, b), weight) in ties)
        {
            double pull = weight * (x[a] - x[b]);
            (y[a], y[b]) = (y[a] + pull, y[b] - pull);
        }
        return y;
    }

    private static double[] ConjugateGradients(double[] right, Func<double[], double[]> matrix)
    {
        var x = new double[right.Length];
        double[] residual = [.. right], direction = [.. right];
        double power = Dot(residual, residual), enough = 1e-20 * power;
        for (int round = 0; round < 4 * right.Length && power > enough; round++)
        {
            double[] image = matrix(direction);
            double step = power / Dot(direction, image);
            for (int i = 0; i < x.Length; i++)
                (x[i], residual[i]) = (x[i] + step * direction[i], residual[i] - step * image[i]);
            double left = Dot(residual, residual);
            for (int i = 0; i < x.Length; i++)
                direction[i] = residual[i] + left / power * direction[i];
            power = left;
        }
        return x;
    }

    private static double Dot(double[] a, double[] b)
    {
        double sum = 0;
        for (int i = 0; i < a.Length; i++)
            sum += a[i] * b[i];
        return sum;
    }
}
