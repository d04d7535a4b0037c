namespace Undersand;

/// <summary>A measured value with its standard deviation, both in the same unit.</summary>
/// <param name="Value">The best value.</param>
/// <param name="StandardDeviation">One standard deviation, never negative.</param>
public readonly record struct Estimate(double Value, double StandardDeviation);
