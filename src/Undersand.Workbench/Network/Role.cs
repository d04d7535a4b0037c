namespace Undersand.Workbench.Network;

/// <summary>What someone may do at the workbench; each role may also do what the ones before it may.</summary>
public enum Role
{
    /// <summary>Sees everything, changes nothing.</summary>
    Look,
    /// <summary>Judges targets.</summary>
    Judge,
    /// <summary>Starts and stops runs, makes codes, forgets devices.</summary>
    Run,
}
