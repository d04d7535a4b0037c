using Microsoft.Extensions.DependencyInjection;
using Undersand.Workbench.Pictures;

namespace Undersand.Workbench.Results;

/// <summary>Owns the results now shown and swaps them whole: whoever asks gets the newest, whoever is at work keeps those he began with.</summary>
internal sealed class ResultsShelf(WorkPlace place)
{
    private volatile ShownResults? _now;

    /// <summary>Raised after other results have taken the place of those shown.</summary>
    public event Action? Changed;

    /// <summary>Where the survey lies and its results go.</summary>
    public WorkPlace Place { get; } = place;

    /// <summary>What is shown now; null before there is anything.</summary>
    public ShownResults? Now => _now;

    /// <summary>The results shown.</summary>
    /// <exception cref="SurveyException">There are none yet.</exception>
    public ShownResults Shown => _now ?? throw new SurveyException(Place.Results, null, "there are no results yet", "process the survey first");

    /// <summary>Changes whenever other results are shown; in the addresses of pictures, so that old ones are never taken for new.</summary>
    public string Version => _now?.Results.Version ?? "";

    /// <summary>Takes up what now lies in the results folder. What people judged is handed on, so that nothing said meanwhile is lost.</summary>
    /// <exception cref="SurveyException">It can't be shown; what was shown before stays.</exception>
    public void Renew()
    {
        _now = new ShownResults(OpenedResults.Open(Place.Results, _now?.Results.Judgements), Place.Survey);
        Changed?.Invoke();
    }
}

/// <summary>Results and what is drawn from them; made anew together.</summary>
internal sealed class ShownResults
{
    public ShownResults(OpenedResults results, string? survey)
    {
        Results = results;
        Maps = new MapTiles(results);
        Sections = new SectionTiles(results, Maps);
        Bricks = new VolumeBricks(results, Sections);
        Recorded = new RecordedSurvey(results, survey);
        Echoes = new EchoTiles(results, Recorded);
    }

    public OpenedResults Results { get; }

    public MapTiles Maps { get; }

    public SectionTiles Sections { get; }

    public VolumeBricks Bricks { get; }

    public RecordedSurvey Recorded { get; }

    public EchoTiles Echoes { get; }
}

/// <summary>Hands out what is shown as services.</summary>
internal static class ShownServices
{
    /// <summary>Each request and circuit gets the part of the results shown when it asks.</summary>
    public static IServiceCollection AddShown<T>(this IServiceCollection services, Func<ShownResults, T> part) where T : class =>
        services.AddTransient(p => part(p.GetRequiredService<ResultsShelf>().Shown));
}
