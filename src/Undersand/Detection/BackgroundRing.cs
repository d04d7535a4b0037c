namespace Undersand.Detection;

/// <summary>Works out, block by block, the energy to be expected where there is no compact body.</summary>
/// <remarks>
/// In eight sectors of a ring: the mean energy at the same burial, and the greatest energy within radius × slope of it. The background is the fourth lowest of
/// the sectors' means, or of their greatest divided by what the greatest of so many speckles is expected to be, whichever is more. A long body and its
/// sidelobes fill some sectors; a layer, flat or dipping, fills all. See docs/science/evidence.md.
/// </remarks>
internal sealed class BackgroundRing
{
    public const int Sectors = 8;
    private readonly List<(int Dx, int Dy, int Sector, int Window)> _places = [];
    private readonly int _levels;

    public BackgroundRing(DetectionSettings settings, VoxelGrid grid, int edge)
    {
        _levels = grid.CountZ;
        double block = edge * grid.Spacing;
        Halo = (int)Math.Ceiling(settings.RingOuter / block);
        for (int dy = -Halo; dy <= Halo; dy++)
            for (int dx = -Halo; dx <= Halo; dx++)
            {
                double distance = block * Math.Sqrt(dx * dx + dy * dy);
                if (distance < settings.RingInner || distance > settings.RingOuter)
                    continue;
                int sector = (int)Math.Floor((Math.Atan2(dy, dx) / (2 * Math.PI) + 1 + 0.5 / Sectors) * Sectors) % Sectors;
                int window = distance > settings.LayerRadius ? -1 : (int)Math.Ceiling(distance * settings.LayerSlope / grid.Spacing);
                _places.Add((dx, dy, sector, window));
            }
        Windows = _places.Max(p => p.Window);
    }

    /// <summary>Blocks needed around a block.</summary>
    public int Halo { get; }

    private int Windows { get; }

    /// <summary>The background of a square of blocks.</summary>
    /// <param name="mean">Mean energy, of (count + 2·<see cref="Halo"/>)² blocks; −1 where not seen.</param>
    /// <param name="greatest">Greatest energy, likewise.</param>
    /// <param name="count">Blocks along the edge of the square.</param>
    /// <param name="speckles">Resolution cells in a block of one level.</param>
    /// <returns>count² blocks × levels; −1 where nothing is known.</returns>
    public float[] Background(float[] mean, float[] greatest, int count, double speckles)
    {
        int wide = count + 2 * Halo;
        var windowed = new float[Windows + 1][];
        for (int w = 0; w <= Windows; w++)
            windowed[w] = w == 0 ? greatest : Widened(windowed[w - 1], greatest, w);
        double expected = ExpectedGreatest(speckles);
        var result = new float[count * count * _levels];
        var scratch = new Scratch(_levels);
        for (int y = 0; y < count; y++)
            for (int x = 0; x < count; x++)
            {
                scratch.Clear();
                foreach (var (dx, dy, sector, window) in _places)
                {
                    int from = ((y + Halo + dy) * wide + x + Halo + dx) * _levels;
                    scratch.Add(sector, mean.AsSpan(from, _levels), window < 0 ? default : windowed[window].AsSpan(from, _levels));
                }
                scratch.Finish(result.AsSpan((y * count + x) * _levels, _levels), expected);
            }
        return result;
    }

    // Of n independent exponentials of mean one the greatest is expected at the n-th harmonic number, ln n + 0.577 + 1/2n.
    private double ExpectedGreatest(double speckles)
    {
        double cells = 0;
        foreach (var (_, _, _, window) in _places)
            if (window >= 0)
                cells += speckles * (2 * window + 1);
        double n = Math.Max(cells / Sectors, 1);
        return Math.Log(n) + 0.5772 + 0.5 / n;
    }

    private float[] Widened(float[] narrower, float[] greatest, int w)
    {
        var result = (float[])narrower.Clone();
        for (int column = 0; column < greatest.Length; column += _levels)
            for (int z = 0; z < _levels; z++)
            {
                if (z >= w)
                    result[column + z] = Math.Max(result[column + z], greatest[column + z - w]);
                if (z + w < _levels)
                    result[column + z] = Math.Max(result[column + z], greatest[column + z + w]);
            }
        return result;
    }

    private sealed class Scratch(int levels)
    {
        private readonly float[] _sum = new float[Sectors * levels], _greatest = new float[Sectors * levels];
        private readonly int[] _count = new int[Sectors * levels];

        public void Clear()
        {
            Array.Clear(_sum);
            Array.Clear(_count);
            Array.Fill(_greatest, -1);
        }

        public void Add(int sector, ReadOnlySpan<float> mean, ReadOnlySpan<float> greatest)
        {
            int at = sector * levels;
            for (int z = 0; z < mean.Length; z++)
            {
                if (mean[z] < 0)
                    continue;
                _sum[at + z] += mean[z];
                _count[at + z]++;
            }
            for (int z = 0; z < greatest.Length; z++)
                _greatest[at + z] = Math.Max(_greatest[at + z], greatest[z]);
        }

        public void Finish(Span<float> background, double expected)
        {
            Span<float> means = stackalloc float[Sectors], tops = stackalloc float[Sectors];
            for (int z = 0; z < levels; z++)
            {
                int known = 0, knownTops = 0;
                for (int s = 0; s < Sectors; s++)
                {
                    if (_count[s * levels + z] > 0)
                        means[known++] = _sum[s * levels + z] / _count[s * levels + z];
                    if (_greatest[s * levels + z] >= 0)
                        tops[knownTops++] = _greatest[s * levels + z];
                }
                float ring = Low(means[..known]), layer = Low(tops[..knownTops]);
                background[z] = known == 0 ? -1 : Math.Max(ring, (float)(layer / expected));
            }
        }

        private static float Low(Span<float> values)
        {
            if (values.Length == 0)
                return -1;
            values.Sort();
            // The fourth lowest of eight: a long body fills two and spills into two more; the open end of a layer leaves three empty. At the survey's
            // edge, where sectors are missing, the greatest of what is left, for little is known there.
            return values[Math.Min(values.Length - 1, Sectors / 2 - 1)];
        }
    }
}
