namespace Undersand.Acoustics;

/// <summary>Which table a sediment is from.</summary>
public enum SedimentTableKind
{
    /// <summary>Hamilton and Bachman (1982), JASA 72, 1891–1904: sands and silts of the shelf; what low frequencies see.</summary>
    Hamilton,
    /// <summary>Jensen, Kuperman, Porter and Schmidt, Computational Ocean Acoustics, table 1.3.</summary>
    Jensen,
    /// <summary>APL-UW TR 9407 (1994), section IV, table 2: the surficial few centimetres that high frequencies see.</summary>
    Surficial,
}
