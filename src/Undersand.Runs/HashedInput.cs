using Undersand.Storage.Surveys;

namespace Undersand.Runs;

/// <summary>A file that a run read.</summary>
/// <param name="File">Its path within the survey's folder, with forward slashes.</param>
/// <param name="Bytes">Its length.</param>
/// <param name="Sha256">SHA-256 of its content, 64 hexadecimal digits.</param>
public sealed record HashedInput(string File, long Bytes, string Sha256)
{
    /// <summary>True for a recording, by its name.</summary>
    public bool IsRecording => File.EndsWith(".sgy", StringComparison.OrdinalIgnoreCase);

    /// <summary>False for tables that are only passed on: with them changed, voxels stay as they are.</summary>
    public bool ShapesVoxels => !SurveyFolder.PassedOn.Contains(File);

    /// <summary>True for tables of the pings of all lines, which go on with every line.</summary>
    public bool IsByPing => SurveyFolder.ByPing.Contains(File);

    /// <summary>Whether a folder holds it, by name and size, so that nothing large need be read through.</summary>
    public bool LiesIn(string folder) => new FileInfo(Path.Combine(folder, File)) is { Exists: true } file && file.Length == Bytes;

    /// <summary>Reads files through once and hashes them.</summary>
    /// <param name="files">The survey's files.</param>
    /// <param name="progress">Hears of each megabyte.</param>
    /// <param name="cancellation">Stops between megabytes.</param>
    /// <returns>The files, in the order of their names.</returns>
    /// <exception cref="SurveyException">A file can't be read any more.</exception>
    public static IReadOnlyList<HashedInput> Hash(IEnumerable<InputFile> files, IProgressSink progress, CancellationToken cancellation)
    {
        InputFile[] ordered = [.. files.OrderBy(f => f.Path, StringComparer.Ordinal)];
        progress.Begin("Reading the inputs through", ordered.Sum(f => f.Bytes) / 1e6, "MB");
        return [.. ordered.Select(f => new HashedInput(f.Path, f.Bytes, f.Sha256(bytes => progress.Advance(bytes / 1e6), cancellation)))];
    }
}
