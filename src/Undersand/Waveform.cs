namespace Undersand;

/// <summary>A transmitted linear chirp, sin(2π(f₀t + (f₁−f₀)t²/2T)), with raised-cosine ends.</summary>
/// <param name="StartFrequency">f₀ in hertz.</param>
/// <param name="EndFrequency">f₁ in hertz; below f₀ for a falling sweep.</param>
/// <param name="Duration">T in seconds.</param>
/// <param name="TaperFraction">The part of the duration that the raised cosine takes at each end, 0 to 0.5.</param>
public sealed record Waveform(double StartFrequency, double EndFrequency, double Duration, double TaperFraction)
{
    /// <summary>The lowest frequency, hertz.</summary>
    public double LowFrequency => Math.Min(StartFrequency, EndFrequency);

    /// <summary>The highest frequency, hertz.</summary>
    public double HighFrequency => Math.Max(StartFrequency, EndFrequency);

    /// <summary>The centre of the band, hertz.</summary>
    public double CentreFrequency => 0.5 * (StartFrequency + EndFrequency);

    /// <summary>The width of the band, hertz.</summary>
    public double Bandwidth => HighFrequency - LowFrequency;
}
