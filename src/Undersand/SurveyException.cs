namespace Undersand;

/// <summary>The survey, or the place for its results, is unusable. Printed as one sentence; the program ends with exit code 2.</summary>
public sealed class SurveyException : Exception
{
    /// <summary>A sentence made of the file, the place in it, what is wrong, and the mend.</summary>
    /// <param name="file">The file or folder, as the user named it.</param>
    /// <param name="place">Where in it (“trace 12, bytes 117–118”), or null.</param>
    /// <param name="wrong">What is wrong.</param>
    /// <param name="mend">What the user can do about it.</param>
    /// <param name="inner">The cause, if any.</param>
    public SurveyException(string file, string? place, string wrong, string mend, Exception? inner = null)
        : base(OneLine(place is null ? $"{file}: {wrong}; {mend}." : $"{file}, {place}: {wrong}; {mend}."), inner)
    {
        File = file;
        Place = place;
    }

    /// <summary>The file or folder.</summary>
    public string File { get; }

    /// <summary>Where in it, or null.</summary>
    public string? Place { get; }

    private static string OneLine(string text) => text.ReplaceLineEndings(" ");
}
