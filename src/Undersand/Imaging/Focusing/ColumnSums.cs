namespace Undersand.Imaging.Focusing;

/// <summary>The sums of one column in double precision, for each group.</summary>
internal sealed class ColumnSums(int groups, int levels)
{
    private readonly double[] _real = new double[groups * levels], _imaginary = new double[groups * levels], _squares = new double[groups * levels];
    private readonly int[] _traces = new int[groups * levels];

    public void Add(int group, int level, double real, double imaginary, double square)
    {
        int i = group * levels + level;
        _real[i] += real;
        _imaginary[i] += imaginary;
        _squares[i] += square;
        _traces[i]++;
    }

    /// <summary>Adds a group's sums to where they are kept; false where there was nothing.</summary>
    public bool Flush(int group, LookSums into, int start)
    {
        bool any = false;
        for (int k = 0; k < levels; k++)
        {
            int i = group * levels + k;
            if (_traces[i] == 0)
                continue;
            any = true;
            into.Real[start + k] += (float)_real[i];
            into.Imaginary[start + k] += (float)_imaginary[i];
            into.SumOfSquares[start + k] += (float)_squares[i];
            into.Traces[start + k] += _traces[i];
        }
        return any;
    }
}
