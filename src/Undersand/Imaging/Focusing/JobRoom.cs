namespace Undersand.Imaging.Focusing;

/// <summary>The memory behind a <see cref="RowJob"/>, laid out once.</summary>
internal static unsafe class JobRoom
{
    private const int Cells = RowJob.MostTraces * RowJob.Lanes, Header = 64;

    public static long Floats(int greatestPadded) =>
        Header + 4L * greatestPadded + 2 * RowJob.Lanes + Cells * (PathPolynomial.Nodes + 2 + 3 + 2 + 4);

    /// <summary>Lays the job and its arrays out in zeroed memory that is as long as <see cref="Floats"/> says.</summary>
    public static RowJob* Lay(float* memory, int greatestPadded)
    {
        var job = (RowJob*)memory;
        float* at = memory + Header;
        job->Mapped = Take(ref at, greatestPadded);
        job->LevelNumbers = Take(ref at, greatestPadded);
        job->Indices = (int*)Take(ref at, greatestPadded);
        job->Fractions = Take(ref at, greatestPadded);
        job->MapScale = Take(ref at, RowJob.Lanes);
        job->MapShift = Take(ref at, RowJob.Lanes);
        job->Coefficients = Take(ref at, PathPolynomial.Nodes * Cells);
        job->WeightStart = Take(ref at, Cells);
        job->WeightRise = Take(ref at, Cells);
        job->First = (int*)Take(ref at, Cells);
        job->Whole = (int*)Take(ref at, Cells);
        job->End = (int*)Take(ref at, Cells);
        job->LeastPlace = Take(ref at, Cells);
        job->GreatestPlace = Take(ref at, Cells);
        job->Records = (byte**)Take(ref at, 2 * Cells);
        job->Sums = (float**)Take(ref at, 2 * Cells);
        return job;
    }

    public static void SetPanel(RowJob* job, LevelPanel panel, double omega)
    {
        job->PaddedLevels = panel.Padded;
        for (int k = 0; k < panel.Padded; k++)
            (job->Mapped[k], job->LevelNumbers[k]) = (panel.Mapped[k], panel.First + k);
        job->SetPhase(omega);
    }

    private static float* Take(ref float* at, int count)
    {
        float* taken = at;
        at += count;
        return taken;
    }
}
