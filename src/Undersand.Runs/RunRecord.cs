using NodaTime;
using Undersand.Storage;

namespace Undersand.Runs;

/// <summary>What was done, with what, to what: the content of <c>run.json</c>.</summary>
/// <remarks>
/// Written whole when the run begins (<see cref="Finished"/> false, so that a folder is known for whose it is), and again when it is
/// done. All but <see cref="Timings"/> is the same for the same inputs, settings, engine and program.
/// </remarks>
public sealed record RunRecord
{
    /// <summary>The survey's name.</summary>
    public required string SurveyName { get; init; }
    /// <summary>False while the results are not all there yet.</summary>
    public required bool Finished { get; init; }
    /// <summary>True where lines came while others had been imaged, and some of those stay under the seabed as it was before: see <see cref="ProcessRequest.LinesStillCome"/>.</summary>
    public bool Provisional { get; init; }
    /// <summary>Every file read, in the order of their names.</summary>
    public required IReadOnlyList<HashedInput> Inputs { get; init; }
    /// <summary>Every setting in force, by its name with its unit: numbers, texts, true or false, null.</summary>
    public required IReadOnlyDictionary<string, object?> Settings { get; init; }
    /// <summary>Which kernel summed: “plain” or “vector”, and whatever else of it can change a bit.</summary>
    public required string Engine { get; init; }
    /// <summary>Where each random draw began.</summary>
    public IReadOnlyDictionary<string, long> Seeds { get; init; } = new Dictionary<string, long>();
    /// <summary>Values that had to be taken from somewhere.</summary>
    public IReadOnlyList<Assumption> Assumptions { get; init; } = [];
    /// <summary>Flaws met.</summary>
    public IReadOnlyList<Caution> Cautions { get; init; } = [];
    /// <summary>The steps that succeeded, in order.</summary>
    public IReadOnlyList<ProcessingStep> Steps { get; init; } = [];
    /// <summary>The newest ping: the date of everything written; null before it is known.</summary>
    public Instant? NewestPing { get; init; }
    /// <summary>The program's version.</summary>
    public string ProgramVersion { get; init; } = CodeVersion.Program;
    /// <summary>The compiled code, see <see cref="CodeVersion.Code"/>.</summary>
    public string Code { get; init; } = CodeVersion.Code;
    /// <summary>The runtime.</summary>
    public string Runtime { get; init; } = CodeVersion.Runtime;
    /// <summary>What differs from run to run: when, how long, with how many threads.</summary>
    public RunTimings? Timings { get; init; }

    /// <summary>Writes it, whole or not at all.</summary>
    /// <param name="path">Usually <see cref="ResultsFolder.Record"/>.</param>
    public void Write(string path) => WholeFile.WriteBytes(path, RunRecordJson.ToBytes(this));

    /// <summary>The record of a folder's finished results.</summary>
    /// <param name="results">The folder.</param>
    /// <param name="named">The folder in the words of whoever asked; null for the same.</param>
    /// <exception cref="SurveyException">There are none, or its record is damaged.</exception>
    public static RunRecord OfFinished(string results, string? named = null)
    {
        string path = Path.Combine(results, ResultsFiles.Record);
        RunRecord? record = TryRead(path);
        if (record is null && File.Exists(path))
            throw new SurveyException(named ?? results, null, $"{ResultsFiles.Record} is damaged, so that nobody can know whether these results are whole", $"put a copy of {ResultsFiles.Record} in its place, or process the survey again into another folder");
        return record is { Finished: true, NewestPing: not null } ? record : throw new SurveyException(named ?? results, null, "these results are not finished", "give the same undersand process command again, it takes up where it stopped");
    }

    /// <summary>Reads it back; null where there is none or it can't be understood.</summary>
    public static RunRecord? TryRead(string path)
    {
        try
        {
            return File.Exists(path) ? RunRecordJson.FromBytes(File.ReadAllBytes(path)) : null;
        }
        catch (Exception e) when (e is System.Text.Json.JsonException or InvalidOperationException or KeyNotFoundException or FormatException)
        {
            return null;
        }
    }
}

/// <summary>What differs from run to run.</summary>
/// <param name="Started">When the run began.</param>
/// <param name="Seconds">How long it took.</param>
/// <param name="Threads">Threads used.</param>
/// <param name="StepSeconds">How long each step took, in the order of the steps.</param>
/// <param name="TilesTakenOver">Tiles found whole from an earlier run and not made again.</param>
public sealed record RunTimings(Instant Started, double Seconds, int Threads, IReadOnlyList<StepTime> StepSeconds, int TilesTakenOver = 0);

/// <summary>How long one step took.</summary>
/// <param name="Step">Its name.</param>
/// <param name="Seconds">How long.</param>
public sealed record StepTime(string Step, double Seconds);
