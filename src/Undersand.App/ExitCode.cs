namespace Undersand.App;

/// <summary>What the program says to whoever started it.</summary>
public static class ExitCode
{
    /// <summary>All is done.</summary>
    public const int Done = 0;

    /// <summary>Our own fault.</summary>
    public const int OwnFault = 1;

    /// <summary>The command line, the survey or the place for the results can't be used.</summary>
    public const int Unusable = 2;

    /// <summary>Stopped by Ctrl-C or by being told to end: 128 and the number of SIGINT, as shells have it.</summary>
    public const int Stopped = 130;
}
