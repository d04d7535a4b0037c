namespace Undersand;

/// <summary>What was found where someone looked: a row of outcomes.csv.</summary>
/// <param name="Easting">Metres.</param>
/// <param name="Northing">Metres.</param>
/// <param name="Radius">How far around was looked, metres.</param>
/// <param name="ReachedDepth">Burial depth that was reached, metres.</param>
/// <param name="Kind">What it was.</param>
/// <param name="Material">In the finder's words; empty if not said.</param>
/// <param name="Note">In the finder's words; empty if not said.</param>
public sealed record Outcome(double Easting, double Northing, double Radius, double ReachedDepth, OutcomeKind Kind, string Material, string Note)
{
    /// <summary>The middle of what was searched; how deep the seabed lies there isn't known.</summary>
    public GridPoint Place => new(Easting, Northing, double.NaN);
}

/// <summary>What somebody who looked came upon.</summary>
public enum OutcomeKind
{
    /// <summary>A thing made by people.</summary>
    Object,
    /// <summary>Nothing.</summary>
    Nothing,
    /// <summary>A stone, a shell bed, gas.</summary>
    Natural,
}
