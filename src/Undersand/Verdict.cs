namespace Undersand;

/// <summary>What a person makes of a target.</summary>
public enum Verdict
{
    /// <summary>Worth a visit: taken for a buried thing.</summary>
    Accept,
    /// <summary>Undecided after looking.</summary>
    Doubt,
    /// <summary>Taken for nothing that is looked for.</summary>
    Reject,
}
