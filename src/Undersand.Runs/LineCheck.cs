using Undersand.Imaging;
using Undersand.Imaging.Conditioning;
using Undersand.Positioning;
using Undersand.Runs.Processing;
using Undersand.Storage.Surveys;

namespace Undersand.Runs;

/// <summary>Judges one recording of a survey by itself, as <c>process</c> will, in seconds: nothing is imaged and nothing written.</summary>
public static class LineCheck
{
    /// <summary>The greatest angle from the vertical under which imaging takes an echo: how far beside its track a line sees the seabed.</summary>
    public static Angle SwathAngle { get; } = new ImagingSettings().MaxAngle;

    /// <summary>Judges a recording.</summary>
    /// <param name="survey">The survey's folder.</param>
    /// <param name="recording">The recording's file name.</param>
    /// <param name="threads">Threads; null for all processors.</param>
    /// <param name="cancellation">Stops between pings.</param>
    /// <returns>Its quality, its pings with the seabed under them, the cautions about it, and what its positions are in.</returns>
    /// <exception cref="SurveyException">It can't be used, and why.</exception>
    public static (LineResult Line, IReadOnlyList<Caution> Cautions, ProjectedCrs Crs) Of(string survey, string recording, int? threads, CancellationToken cancellation)
    {
        using SurveyFolder folder = SurveyFolder.Open(survey, Formulas.OfScience, [recording], cancellation);
        var parallel = new ParallelOptions { MaxDegreeOfParallelism = new Parallelism(threads).Threads, CancellationToken = cancellation };
        LineScan scan = new LineScanner(folder.Survey, new ImagingSettings().Conditioning, parallel).Scan(folder.Lines[0]);
        return (ResultAssembler.Line(scan), [.. LineCautions.Of(scan)], ProjectedCrs.Of(folder.Survey));
    }
}
