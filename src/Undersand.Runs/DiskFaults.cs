using Microsoft.Data.Sqlite;

namespace Undersand.Runs;

/// <summary>Says in one sentence what the operating system says in a number: a full disk, a folder that may not be written.</summary>
public static class DiskFaults
{
    // errno of Linux and macOS, and Windows' error codes as HRESULTs.
    private const int NoSpace = 28, LinuxQuota = 122, MacQuota = 69, ReadOnlyFileSystem = 30, FileTooLarge = 27;
    private const int WindowsDiskFull = unchecked((int)0x80070070), WindowsHandleDiskFull = unchecked((int)0x80070027), WindowsWriteProtected = unchecked((int)0x80070013);
    // SQLite's primary result codes, sqlite.org/rescode.html.
    private const int SqlitePermission = 3, SqliteReadOnly = 8, SqliteFull = 13, SqliteCannotOpen = 14;

    /// <summary>True where the disk, or the user's share of it, is full.</summary>
    public static bool IsDiskFull(Exception fault) => fault switch
    {
        IOException io => io.HResult is NoSpace or LinuxQuota or MacQuota or FileTooLarge or WindowsDiskFull or WindowsHandleDiskFull,
        SqliteException sql => sql.SqliteErrorCode == SqliteFull,
        _ => fault.InnerException is { } inner && IsDiskFull(inner),
    };

    /// <summary>True where something may not be written or read by this user.</summary>
    public static bool IsRefused(Exception fault) => fault switch
    {
        UnauthorizedAccessException => true,
        IOException io => io.HResult is ReadOnlyFileSystem or WindowsWriteProtected,
        SqliteException sql => sql.SqliteErrorCode is SqlitePermission or SqliteReadOnly or SqliteCannotOpen,
        _ => fault.InnerException is { } inner && IsRefused(inner),
    };

    /// <summary>The sentence for a fault of the disk, or null where it is none of these.</summary>
    /// <param name="fault">What was thrown.</param>
    /// <param name="results">The results folder, as the user named it.</param>
    public static SurveyException? Explain(Exception fault, string results)
    {
        if (fault is SurveyException already)
            return already;
        if (IsDiskFull(fault))
            return new SurveyException(results, null, "the disk is full", "make room or choose another disk with --out, then give the same command again: it goes on where it stopped", fault);
        if (IsRefused(fault))
            return new SurveyException(results, null, "it may not be written, or a file of the survey may not be read (" + Reason(fault) + ")",
                "change the permissions or choose another folder with --out", fault);
        return null;
    }

    private static string Reason(Exception fault) => fault.Message.TrimEnd('.', ' ');
}
