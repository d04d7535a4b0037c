namespace Undersand.Runs.Tests.Support;

/// <summary>
/// Compares what came out with a page committed beside the tests. On a mismatch the page as it came out is written beside it, as
/// <c>name.received.txt</c>: read the difference, and rename the file only if it is what it should be.
/// </summary>
internal static class Page
{
    /// <param name="name">The page's path below <c>tests/Undersand.Runs.Tests</c>, without its ending.</param>
    /// <param name="actual">What came out.</param>
    /// <param name="ending">The page's ending.</param>
    public static void Is(string name, string actual, string ending = ".txt")
    {
        string stem = Path.Combine(Repository.Root, "tests", "Undersand.Runs.Tests", name), page = stem + ending, received = stem + ".received" + ending;
        actual = actual.ReplaceLineEndings("\n");
        string expected = File.Exists(page) ? File.ReadAllText(page).ReplaceLineEndings("\n") : "";
        if (actual == expected)
        {
            File.Delete(received);
            return;
        }
        File.WriteAllText(received, actual);
        int line = actual.Split('\n').Zip(expected.Split('\n')).TakeWhile(pair => pair.First == pair.Second).Count() + 1;
        Assert.Fail($"{page} differs from what came out, first in line {line}; see {received}");
    }
}
