using Undersand.Storage.SegY;

namespace Undersand.Runs.Inspection;

/// <summary>Does what <c>inspect</c> asks for.</summary>
public static class Inspector
{
    /// <summary>A page about a recording.</summary>
    /// <exception cref="SurveyException">The file can't be opened, is no SEG-Y file, or is broken.</exception>
    public static RunOutcome Inspect(InspectRequest request, IProgressSink progress, CancellationToken cancellation)
    {
        if (Directory.Exists(request.File))
            throw new SurveyException(request.File, null, "it is a folder", "give one of the .sgy files in it");
        SegyDescription file = SegyDescriber.Describe(request.File, count => progress.Advance(count), cancellation);
        return new RunOutcome(RecordingPage.Lines(file), []);
    }
}
