using Undersand.Acoustics;

namespace Undersand.Tests.Acoustics;

public class AbsorptionTests
{
    // Check table of Francois and Garrison (1982) as a public code prints it, S=35, surface, pH 8; tolerance is its last digit.
    [Theory]
    [InlineData(0, 10, 1.29, 0.005)]
    [InlineData(10, 10, 0.963, 0.0005)]
    [InlineData(10, 100, 33.6, 0.05)]
    public void Francois_and_Garrison_gives_the_printed_values(double temperature, double kilohertz, double expected, double tolerance) =>
        Assert.Equal(expected, Absorption.FrancoisGarrison(1000 * kilohertz, temperature, 35), tolerance);

    // A public library documents 35.611360 dB/km for t=27, S=35, pH 8.1, 100 kHz; that is its 10 m value (design check AB-11).
    [Fact]
    public void Depth_counts()
    {
        Assert.Equal(35.661761, Absorption.FrancoisGarrison(100_000, 27, 35, 0, 8.1), 1e-6);
        Assert.Equal(35.611360, Absorption.FrancoisGarrison(100_000, 27, 35, 10, 8.1), 1e-6);
    }

    // tests/data/checks/absorption_seawater.csv: independent code, six printed digits.
    [Fact]
    public void Both_formulas_and_their_parts_agree_with_the_table()
    {
        foreach (CheckTable.Row row in CheckTable.Read("checks/absorption_seawater.csv").Rows)
        {
            double f = 1000 * row.Number("f_kHz"), t = row.Number("t_C"), S = row.Number("S_pss"), z = row.Number("depth_m"), pH = row.Number("pH");
            SeaWaterAbsorption parts = Absorption.FrancoisGarrisonParts(f, t, S, z, pH);
            Assert.Equal(row.Number("FG_boric_dB_km"), parts.BoricAcid, 1e-6);
            Assert.Equal(row.Number("FG_MgSO4_dB_km"), parts.MagnesiumSulphate, 1e-6);
            Assert.Equal(row.Number("FG_water_dB_km"), parts.PureWater, 1e-6);
            Assert.Equal(row.Number("FG_total_dB_km"), Absorption.FrancoisGarrison(f, t, S, z, pH), 1e-6);
            Assert.Equal(row.Number("AM1998_dB_km"), Absorption.AinslieMcColm(f, t, S, z, pH), 1e-6);
        }
    }

    // Law: absorption grows with frequency, in every water.
    [Fact]
    public void Absorption_grows_with_frequency()
    {
        foreach ((double t, double S) in new[] { (0.0, 35.0), (15, 35), (28, 38), (8, 5), (8, 0) })
            for (double f = 500; f < 100_000; f *= 1.1)
            {
                Assert.True(Absorption.FrancoisGarrison(1.1 * f, t, S) > Absorption.FrancoisGarrison(f, t, S));
                Assert.True(Absorption.AinslieMcColm(1.1 * f, t, S) > Absorption.AinslieMcColm(f, t, S));
            }
    }

    [Fact]
    public void Fresh_water_has_only_the_water_itself_to_absorb()
    {
        SeaWaterAbsorption parts = Absorption.FrancoisGarrisonParts(10_000, 10, 0);
        Assert.Equal(0, parts.BoricAcid);
        Assert.Equal(0, parts.MagnesiumSulphate);
        Assert.Equal(parts.PureWater, Absorption.FrancoisGarrison(10_000, 10, 0));
    }
}
