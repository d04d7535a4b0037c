namespace Undersand;

/// <summary>A value that was not given and had to be taken from somewhere; the report lists each.</summary>
/// <param name="Quantity">What it is, in the trade's words.</param>
/// <param name="Value">The value taken, with its unit.</param>
/// <param name="Source">Where it was taken from, and why.</param>
public sealed record Assumption(string Quantity, string Value, string Source);
