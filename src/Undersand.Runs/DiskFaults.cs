using Undersand.Storage;

namespace Undersand.Runs;

/// <summary>What is done about faults of the disk that nobody explained where they happened.</summary>
public static class DiskFaults
{
    /// <summary>True where the disk is full, however deep the cause lies.</summary>
    public static bool IsDiskFull(Exception fault) =>
        WriteFailure.IsDiskFull(fault) || (fault.InnerException is { } inner && IsDiskFull(inner));

    /// <summary>The sentence for a fault, or null where it is none of the disk's.</summary>
    /// <param name="fault">What was thrown.</param>
    /// <param name="place">The file or folder in hand, as the user named it.</param>
    public static SurveyException? Explain(Exception fault, string place) => fault switch
    {
        SurveyException explained => explained,
        _ when WriteFailure.IsDiskFull(fault) => Sentence(fault, place, WriteFailure.Explain(fault)!.Value),
        // Whether it was on reading or on writing isn't known here; the system's own message names the file.
        IOException or UnauthorizedAccessException => Sentence(fault, place, ($"a file can't be read or written ({fault.Message.TrimEnd('.')})", "see to it and give the same command again")),
        Microsoft.Data.Sqlite.SqliteException => WriteFailure.Explain(fault) is { } words ? Sentence(fault, place, words) : null,
        _ => null,
    };

    private static SurveyException Sentence(Exception fault, string place, (string Wrong, string Mend) words) =>
        new(place, null, words.Wrong, words.Mend, fault);
}
