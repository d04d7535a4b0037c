namespace Undersand.Imaging.Focusing;

/// <summary>The sum one level at a time, for processors without AVX2.</summary>
internal static unsafe class KernelScalar
{
    public static void Add(RowJob* job)
    {
        for (int trace = 0; trace < job->Traces; trace++)
            for (int column = 0; column < RowJob.Lanes; column++)
            {
                int i = trace * RowJob.Lanes + column;
                for (int k = job->First[i]; k < job->End[i]; k++)
                    AddLevel(job, i, job->Coefficients + trace * (PathPolynomial.Nodes * RowJob.Lanes) + column, column, k);
            }
    }

    /// <summary>Where a level's path time falls, in intervals from where the records point, before any clamping.</summary>
    public static float Place(RowJob* job, float* c, int column, int level)
    {
        float z = MathF.FusedMultiplyAdd(job->Mapped[level], job->MapScale[column], job->MapShift[column]);
        float v = c[(PathPolynomial.Nodes - 1) * RowJob.Lanes];
        for (int m = PathPolynomial.Nodes - 2; m >= 0; m--)
            v = MathF.FusedMultiplyAdd(z, v, c[m * RowJob.Lanes]);
        return v;
    }

    private static void AddLevel(RowJob* job, int i, float* c, int column, int k)
    {
        float v = Math.Clamp(Place(job, c, column, k), job->LeastPlace[i], job->GreatestPlace[i]);
        float whole = MathF.Round(v), g = v - whole, g2 = g * g;
        float* record = (float*)(job->Records[i] + 16L * (int)whole);
        float weight = k >= job->Whole[i] ? 1 : Math.Clamp((job->LevelNumbers[k] - job->WeightStart[i]) * job->WeightRise[i], 0, 1);
        float a = weight * (record[0] + g * record[2]), b = weight * (record[1] + g * record[3]);
        float cos = 1 + g2 * (job->C2 + g2 * job->C4), sin = g * (job->S1 + g2 * (job->S3 + g2 * job->S5));
        float* re = job->Sums[i] + k, im = re + job->PaddedLevels, square = im + job->PaddedLevels;
        *re += a * cos - b * sin;
        *im += a * sin + b * cos;
        *square += a * a + b * b;
    }
}
