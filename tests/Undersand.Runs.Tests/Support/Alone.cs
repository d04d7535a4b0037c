namespace Undersand.Runs.Tests.Support;

/// <summary>For tests that measure the process's memory: they run when no other does.</summary>
[CollectionDefinition(Name, DisableParallelization = true)]
public sealed class Alone
{
    public const string Name = "alone";
}
