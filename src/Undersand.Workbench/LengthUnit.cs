using Undersand.Runs.Reporting;

namespace Undersand.Workbench;

/// <summary>A unit of length, and how lengths are written in it. A number keeps its decimals whatever the unit: to a foot or a fathom they are fine enough.</summary>
/// <remarks>
/// A yard is 0.9144 m exactly (international yard and pound agreement of 1959; 24 Federal Register 5348), a foot a third of that and a fathom six feet. Tables that
/// still make the fathom of survey feet (NIST SP 811, 2008, appendix B.8: 1.828804 m) are two parts in a million longer; that foot was given up in 2022 (85 Federal Register 62698).
/// </remarks>
/// <param name="Name">As written behind a number.</param>
/// <param name="Metres">How many metres it is.</param>
internal sealed record LengthUnit(string Name, double Metres)
{
    public static readonly LengthUnit Metre = new("m", 1), Foot = new("ft", 0.3048), Fathom = new("fathoms", 1.8288);

    /// <summary>A length as a number under a heading that says the unit.</summary>
    public string Number(double metres, int decimals) => Numbers.Fixed(metres / Metres, decimals);

    /// <summary>A length and its standard deviation as numbers.</summary>
    public string Number(Estimate metres) => Numbers.WithSd(new(metres.Value / Metres, metres.StandardDeviation / Metres));

    /// <summary>A length as a number and its unit.</summary>
    public string Write(double metres, int decimals) => $"{Number(metres, decimals)} {Name}";

    public string Write(Estimate metres) => $"{Number(metres)} {Name}";

    /// <summary>A length that was set, without zeros at its end.</summary>
    public string Given(double metres) => $"{Numbers.Given(Math.Round(metres / Metres, 2))} {Name}";

    public string Area(double squareMetres, int decimals) => $"{Numbers.Fixed(squareMetres / (Metres * Metres), decimals)} {Name}²";

    /// <summary>What is put in brackets behind a sentence in metres: nothing where metres are what is wanted.</summary>
    /// <param name="words">The sentence in this unit.</param>
    public string Beside(Func<LengthUnit, string?> words) => this == Metre || words(this) is not { } said ? "" : $" ({said})";

    /// <summary>What someone measured by hand; null where nothing was.</summary>
    public string? Write(HandMeasure measured) => SayingWords.Sizes(measured, v => Number(v, 2), Name);
}
