namespace Undersand;

/// <summary>In what standing a judgement was said; each standing is kept for itself.</summary>
public enum Opinion
{
    /// <summary>Openly, with the machine's numbers and everyone's judgements in sight.</summary>
    First,
    /// <summary>By a second judge who saw neither.</summary>
    Second,
    /// <summary>Openly, after a first and a second opinion on the same target had been held against each other: the decision.</summary>
    Agreed,
}
