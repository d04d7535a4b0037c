using System.Security.Cryptography;
using Undersand.Storage;

namespace Undersand.Runs.Processing;

/// <summary><c>SHA256SUMS</c>: what was written, file by file, as coreutils' <c>sha256sum -c</c> holds it against the folder.</summary>
/// <remarks>There only with finished results. Of <c>run.json</c>, which holds times, it says nothing, so that the same inputs give the same sums.</remarks>
internal static class ResultSums
{
    /// <summary>Reads the results through once and writes their sums.</summary>
    /// <exception cref="SurveyException">The place can't be written to.</exception>
    public static void Write(ResultsFolder folder, Parallelism threads, IProgressSink progress, CancellationToken cancellation)
    {
        string[] files = [.. ResultsFiles.Lasting(folder.Path)];
        string[] lines = new string[files.Length];
        progress.Begin("Taking the sums of the results", files.Length, "files");
        threads.For(files.Length, i =>
        {
            using FileStream file = File.OpenRead(Path.Combine(folder.Path, files[i]));
            lines[i] = $"{Convert.ToHexStringLower(SHA256.HashData(file))}  {files[i]}\n";
            progress.Advance();
        }, cancellation);
        WholeFile.WriteText(folder.Sums, string.Concat(lines));
    }
}
