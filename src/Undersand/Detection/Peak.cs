namespace Undersand.Detection;

/// <summary>A local maximum of evidence.</summary>
/// <param name="X">Column eastwards.</param>
/// <param name="Y">Row northwards.</param>
/// <param name="Z">Level.</param>
/// <param name="Ratio">Evidence there.</param>
/// <param name="Lines">Lines that saw it.</param>
internal readonly record struct Peak(int X, int Y, int Z, float Ratio, int Lines)
{
    /// <summary>The evidence in dB.</summary>
    public double Db => 10 * Math.Log10(Ratio);
}
