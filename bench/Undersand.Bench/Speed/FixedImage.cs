namespace Undersand.Bench.Speed;

/// <summary>The fixed problem's image, laid out as the C reference has it: [iy][ix][level].</summary>
internal sealed class FixedImage
{
    private const int Voxels = FixedProblem.CountX * FixedProblem.CountY * FixedProblem.Levels, Row = FixedProblem.CountX * FixedProblem.Levels;

    public float[] Real { get; } = new float[Voxels];

    public float[] Imaginary { get; } = new float[Voxels];

    public float[] Squares { get; } = new float[Voxels];

    public int[] Counts { get; } = new int[Voxels];

    public long VoxelTraces => Counts.Sum(c => (long)c);

    /// <summary>The sums that implementations agree on: of the real part, weighted, and of the squares; of all or of one row.</summary>
    public (double Real, double Squares) Checksum(int? row = null)
    {
        double real = 0, squares = 0;
        for (int v = row * Row ?? 0; v < (row is int r ? (r + 1) * Row : Voxels); v++)
        {
            double w = 1.0 + v % 7;
            real += w * Real[v];
            squares += Squares[v];
        }
        return (real, squares);
    }

    /// <summary>Relative root of the squared difference of the complex images over the rows that both hold.</summary>
    public double DifferenceFrom(FixedImage other, int? row = null)
    {
        double error = 0, energy = 0;
        for (int v = row * Row ?? 0; v < (row is int r ? (r + 1) * Row : Voxels); v++)
        {
            double a = Real[v] - other.Real[v], b = Imaginary[v] - other.Imaginary[v];
            error += a * a + b * b;
            energy += (double)other.Real[v] * other.Real[v] + (double)other.Imaginary[v] * other.Imaginary[v];
        }
        return Math.Sqrt(error / energy);
    }
}
