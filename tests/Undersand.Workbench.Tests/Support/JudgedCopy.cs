using Undersand.Runs;
using Undersand.Runs.Tests.Support;
using Undersand.Storage.GeoPackage;
using Undersand.Workbench.Results;

namespace Undersand.Workbench.Tests.Support;

/// <summary>A copy of the small results on a shelf of its own, and a desk to judge them at.</summary>
internal sealed class JudgedCopy : IDisposable
{
    /// <param name="small">The results.</param>
    /// <param name="targets">How many targets they are to have: the second and further ones are likes of the first, each 1.5 m farther east.</param>
    public JudgedCopy(SmallResults small, int targets = 1)
    {
        Folder = small.Copy();
        if (targets > 1)
            Multiply(targets);
        ResultsShelf shelf = Shelves.Open(Folder.Path);
        (Results, Desk) = (shelf.Shown.Results, new JudgementDesk(shelf));
    }

    public TestFolder Folder { get; }

    public OpenedResults Results { get; }

    public JudgementDesk Desk { get; }

    /// <summary>The most probable target.</summary>
    public Target First => Results.Targets[0];

    public void Dispose() => Folder.Dispose();

    private void Multiply(int targets)
    {
        SurveyResult result = ResultsReader.Read(Folder.Path, Shelves.Open(Folder.Path).Shown.Results.Contents);
        Target first = result.Targets[0];
        SurveyGeoPackage.Write(Folder["survey.gpkg"], result with
        {
            Targets = [first, .. Enumerable.Range(1, targets - 1).Select(i => first with { Id = $"{first.Id}-{i + 1}", Position = first.Position with { Easting = first.Position.Easting + 1.5 * i } })],
        });
    }
}
