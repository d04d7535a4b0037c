using Undersand.Runs.Tests.Support;
using Undersand.Workbench.Results;

namespace Undersand.Workbench.Tests.Support;

/// <summary>A copy of the small results on a shelf of its own, and a desk to judge them at.</summary>
internal sealed class JudgedCopy : IDisposable
{
    public JudgedCopy(SmallResults small)
    {
        Folder = small.Copy();
        ResultsShelf shelf = Shelves.Open(Folder.Path);
        (Results, Desk) = (shelf.Shown.Results, new JudgementDesk(shelf));
    }

    public TestFolder Folder { get; }

    public OpenedResults Results { get; }

    public JudgementDesk Desk { get; }

    /// <summary>The most probable target.</summary>
    public Target First => Results.Targets[0];

    public void Dispose() => Folder.Dispose();
}
