namespace Undersand.Runs.Tests.Support;

/// <summary>Where the repository lies, for tests that compare with committed pages or read files of others.</summary>
internal static class Repository
{
    /// <summary>The repository's root: the nearest folder upwards that holds the solution.</summary>
    public static string Root { get; } = FindRoot();

    /// <summary>The folder <c>shared</c> beside the repository, or null where there is none.</summary>
    public static string? Shared { get; } = Directory.Exists(Path.Combine(Root, "..", "shared")) ? Path.GetFullPath(Path.Combine(Root, "..", "shared")) : null;

    private static string FindRoot()
    {
        for (DirectoryInfo? folder = new(AppContext.BaseDirectory); folder is not null; folder = folder.Parent)
            if (File.Exists(Path.Combine(folder.FullName, "Undersand.slnx")))
                return folder.FullName;
        throw new InvalidOperationException("The tests must run from a folder below the repository's root.");
    }
}
