using Microsoft.Data.Sqlite;

namespace Undersand.Storage;

/// <summary>Why a file can't be written, in words, and what to do about it.</summary>
public static class WriteFailure
{
    // Error numbers of Linux and macOS (errno), which .NET hands on in HResult there, and of Windows (as HRESULT).
    private const int NoSpace = 28, QuotaLinux = 122, QuotaMac = 69, ReadOnly = 30, FileTooLarge = 27;
    private const int WindowsHandleDiskFull = unchecked((int)0x80070027), WindowsDiskFull = unchecked((int)0x80070070), WindowsWriteProtect = unchecked((int)0x80070013);

    // Result codes of SQLite.
    private const int SqlitePermission = 3, SqliteReadOnly = 8, SqliteInputOutput = 10, SqliteFull = 13, SqliteCantOpen = 14;

    private static readonly (string, string) Full = ("the disk is full", "free some space or choose another folder with --out, then run the same command again");
    private static readonly (string, string) Protected = ("the place is read-only", "choose a folder that can be written to with --out");
    private static readonly (string, string) Denied = ("writing here is not permitted", "change the permissions or choose another folder with --out");

    /// <summary>True where the disk, or the user's share of it, is full.</summary>
    public static bool IsDiskFull(Exception e) => Explain(e) is { } words && words == Full;

    /// <summary>What is wrong and what to do about it; null where it is no failure of writing.</summary>
    public static (string Wrong, string Mend)? Explain(Exception e) => e switch
    {
        SqliteException { SqliteErrorCode: SqliteFull } => Full,
        SqliteException { SqliteErrorCode: SqliteReadOnly } => Protected,
        SqliteException { SqliteErrorCode: SqlitePermission or SqliteCantOpen } => Denied,
        SqliteException { SqliteErrorCode: SqliteInputOutput } => Other(e),
        UnauthorizedAccessException { InnerException: IOException { HResult: ReadOnly } } => Protected,
        UnauthorizedAccessException => Denied,
        PathTooLongException => ("the path is too long", "choose a shorter one with --out"),
        IOException io => OfNumber(io),
        _ => null,
    };

    private static (string, string) OfNumber(IOException e) => e.HResult switch
    {
        NoSpace or QuotaLinux or QuotaMac or WindowsHandleDiskFull or WindowsDiskFull => Full,
        ReadOnly or WindowsWriteProtect => Protected,
        FileTooLarge => ("the file grows larger than this file system allows", "choose another folder with --out"),
        _ => Other(e),
    };

    private static (string, string) Other(Exception e) =>
        ($"it can't be written ({e.Message.TrimEnd('.')})", "choose another folder with --out");
}
