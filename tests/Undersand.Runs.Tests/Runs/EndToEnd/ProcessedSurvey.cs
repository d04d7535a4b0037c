using Undersand.Runs.Tests.Support;

namespace Undersand.Runs.Tests.Runs.EndToEnd;

/// <summary>Two lines over a ball, written and processed once for a class of tests.</summary>
public sealed class ProcessedSurvey : IDisposable
{
    private readonly TestFolder _folder = new();

    /// <summary>Makes it.</summary>
    public ProcessedSurvey()
    {
        SmallSurvey.Write(Survey, SmallSurvey.TwoLines);
        Before = FolderBytes.Of(Survey);
        Outcome = new SurveyRunner().Process(new ProcessRequest(Survey, Results) { Threads = 2 }, new NoProgress(), CancellationToken.None);
    }

    /// <summary>The survey's folder.</summary>
    public string Survey => _folder["survey"];

    /// <summary>The results' folder.</summary>
    public string Results => _folder["results"];

    /// <summary>Hashes of the survey's files before the run.</summary>
    public IReadOnlyDictionary<string, string> Before { get; }

    /// <summary>What the run ended with.</summary>
    public RunOutcome Outcome { get; }

    /// <summary>A fresh place beside both.</summary>
    public string Beside(string name) => _folder[name];

    /// <summary>A file of the results.</summary>
    public string this[params string[] names] => Path.Combine([Results, .. names]);

    /// <inheritdoc/>
    public void Dispose() => _folder.Dispose();
}
