namespace Undersand;

/// <summary>A reading of the total field, and by how much it stands out along its line.</summary>
/// <param name="Reading">As recorded.</param>
/// <param name="Line">Which stretch of unbroken readings it belongs to, from 1.</param>
/// <param name="MedianNanotesla">The running median of the field along the line, nT.</param>
public readonly record struct MagneticPoint(MagnetometerReading Reading, int Line, double MedianNanotesla)
{
    /// <summary>The field less the running median, nT.</summary>
    public double ResidualNanotesla => Reading.TotalFieldNanotesla - MedianNanotesla;
}
