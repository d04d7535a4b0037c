using Undersand.Workbench.Results;

namespace Undersand.Workbench.Tests.Support;

/// <summary>Results on a shelf, as the workbench has them.</summary>
internal static class Shelves
{
    public static ResultsShelf Open(string folder)
    {
        var shelf = new ResultsShelf(new WorkPlace(folder, null));
        shelf.Renew();
        return shelf;
    }
}
