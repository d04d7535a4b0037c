namespace Undersand.Signal;

/// <summary>How the band is weighted when a pulse is shaped: the trade between a narrow pulse and low sidelobes.</summary>
/// <remarks>Widths and sidelobes of each are held against published values in the tests; see docs/science/pulse-compression.md.</remarks>
public enum SpectralWeight
{
    /// <summary>All of the band alike: narrowest pulse, sidelobes at −13 dB.</summary>
    Rectangular,
    /// <summary>Raised cosine: pulse 2.0/B wide at −6 dB, sidelobes at −31 dB that fall off fast. The default, since the seabed's echo lies just above shallow objects.</summary>
    Hann,
    /// <summary>0.54 + 0.46 cos: 1.8/B, sidelobes at −43 dB that hardly fall off.</summary>
    Hamming,
    /// <summary>Taylor, four equal sidelobes of −35 dB: 1.6/B.</summary>
    Taylor,
}
