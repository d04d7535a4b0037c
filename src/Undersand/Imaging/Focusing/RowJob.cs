namespace Undersand.Imaging.Focusing;

/// <summary>What a kernel needs to add a few traces to eight neighbouring columns. Arrays of [trace][column] or [column], eight columns a row.</summary>
internal unsafe struct RowJob
{
    public const int Lanes = 8, MostTraces = 4;

    /// <summary>Traces in this job.</summary>
    public int Traces;

    /// <summary>Levels with room for whole vectors; a multiple of 16.</summary>
    public int PaddedLevels;

    /// <summary>[level] The mapped burial, ŷ, and the number of the level as a float.</summary>
    public float* Mapped, LevelNumbers;

    /// <summary>[column] z = ŷ · scale + shift.</summary>
    public float* MapScale, MapShift;

    /// <summary>[trace][coefficient][column] Path time in intervals, from the middle of the interval that <see cref="Records"/> points at.</summary>
    public float* Coefficients;

    /// <summary>[trace][column] The weight is clamp((level − start) · rise, 0, 1).</summary>
    public float* WeightStart, WeightRise;

    /// <summary>[trace][column] First level that counts, the one from which the weight is 1 (multiple of 16), and the one behind the last that counts.</summary>
    public int* First, Whole, End;

    /// <summary>[trace][column] Least and greatest place, in intervals from where <see cref="Records"/> points: what lies inside the trace.</summary>
    public float* LeastPlace, GreatestPlace;

    /// <summary>[trace][column] Where the records are counted from.</summary>
    public byte** Records;

    /// <summary>[trace][column] Real parts of the sums of that trace's group; imaginary parts and squares follow <see cref="PaddedLevels"/> behind each.</summary>
    public float** Sums;

    /// <summary>Room for the indices and the fractions of a column.</summary>
    public int* Indices;

    /// <summary>Room for the fractions of a column.</summary>
    public float* Fractions;

    /// <summary>cos ≈ 1 + g²(C2 + g²·C4), sin ≈ g(S1 + g²(S3 + g²·S5)) of the phase left at g intervals from the middle.</summary>
    public float C2, C4, S1, S3, S5;

    /// <summary>Sets the short polynomials for a turn of the carrier of ω radians an interval: Taylor's, good to 5·10⁻⁶ for |ωg| up to 0.4.</summary>
    public void SetPhase(double omega)
    {
        (C2, C4) = ((float)(-omega * omega / 2), (float)(Math.Pow(omega, 4) / 24));
        (S1, S3, S5) = ((float)omega, (float)(-Math.Pow(omega, 3) / 6), (float)(Math.Pow(omega, 5) / 120));
    }
}
