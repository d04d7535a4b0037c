namespace Undersand;

/// <summary>A flaw in the data that one can live with; kept with the results and printed in the report.</summary>
/// <param name="Where">The file, line or place it concerns.</param>
/// <param name="Text">What is wrong and what was done about it, in one sentence.</param>
/// <param name="Count">How often it was met.</param>
public sealed record Caution(string Where, string Text, int Count = 1);
