using Undersand.Acoustics;

namespace Undersand.Tests.Acoustics;

public class SedimentTableTests
{
    private static readonly Water Water = new(1500);

    // tests/data/checks/sediment_table_tr9407.csv: APL-UW TR 9407 (1994), section IV, table 2.
    [Fact]
    public void Surficial_rows_are_those_of_the_table()
    {
        List<CheckTable.Row> rows = [.. CheckTable.Read("checks/sediment_table_tr9407.csv").Rows];
        Assert.Equal(rows.Count, SedimentTable.SurficialRows.Count);
        foreach ((CheckTable.Row row, SedimentRow ours) in rows.Zip(SedimentTable.SurficialRows))
        {
            Assert.StartsWith(ours.Name.Split(' ')[0], row.Text("name"), StringComparison.OrdinalIgnoreCase);
            Assert.Equal(row.Number("density_ratio"), ours.DensityRatio);
            Assert.Equal(row.Number("velocity_ratio"), ours.SpeedRatio);
            Assert.Equal(row.Number("attenuation_dB_per_m_per_kHz"), ours.AttenuationDbPerMetrePerKhz, 0.6e-4);
            Assert.Equal(row.Number("normal_incidence_R_lossless"), ours.NormalReflection, 0.6e-4);
            PlaneInterface seabed = new(ours.DensityRatio, ours.SpeedRatio, row.Number("loss_parameter_delta"));
            Assert.Equal(row.Number("normal_incidence_R_abs_with_loss"), seabed.Reflection(new Angle(0)).Magnitude, 0.6e-4);
        }
    }

    // tests/data/checks/sediment_table_jensen.csv: Jensen, Kuperman, Porter and Schmidt, Computational Ocean Acoustics, table 1.3.
    [Fact]
    public void Rows_of_Jensen_are_those_of_the_table()
    {
        foreach (CheckTable.Row row in CheckTable.Read("checks/sediment_table_jensen.csv").Rows)
        {
            Assert.True(SedimentTable.TryFind(row.Text("name") + " (Jensen et al., table 1.3)", out SedimentRow? ours));
            Assert.Equal(row.Number("density_ratio_to_water_1000"), ours.DensityRatio);
            Assert.Equal(row.Number("velocity_ratio_to_1500"), ours.SpeedRatio);
            Assert.Equal(row.Number("attenuation_dB_per_m_per_kHz"), ours.AttenuationDbPerMetrePerKhz, 0.6e-4);
            Assert.Equal(row.Number("normal_incidence_R_lossless"), ours.NormalReflection, 0.6e-4);
        }
    }

    // Hamilton and Bachman (1982), shelf: recalled, not looked up (design check SE-17), hence a bound: ±0.05 g/cm³, ±0.02.
    [Theory]
    [InlineData("coarse sand", 2.03, 1.20)]
    [InlineData("fine sand", 1.95, 1.15)]
    [InlineData("silty sand", 1.79, 1.08)]
    [InlineData("sandy silt", 1.77, 1.08)]
    [InlineData("clayey silt", 1.49, 1.01)]
    [InlineData("silty clay", 1.42, 0.99)]
    public void Default_sands_and_silts_are_those_of_Hamilton_and_Bachman(string name, double density, double ratio)
    {
        Assert.True(SedimentTable.TryFind(name, out SedimentRow? row));
        Assert.Equal(SedimentTableKind.Hamilton, row.Table);
        Assert.Equal(density, row.Under(new Water(1500, 1024)).Density / 1000, 0.05);
        Assert.Equal(ratio, row.SpeedRatio, 0.02);
    }

    // Design check, section 3: Hamilton's and Jensen's sands give 0.35–0.38, TR 9407's fine sand 0.233.
    [Fact]
    public void A_sediment_says_which_of_the_two_tables_it_is_from()
    {
        Assert.True(SedimentTable.TryFind(" Fine Sand ", out SedimentRow? deep));
        Assert.True(SedimentTable.TryFind("fine sand (APL-UW TR 9407)", out SedimentRow? loose));
        Assert.Equal("fine sand (Hamilton and Bachman 1982)", deep.Under(Water).Name);
        Assert.Equal("fine sand (APL-UW TR 9407)", loose.Under(Water).Name);
        Assert.InRange(deep.NormalReflection, 0.35, 0.38);
        Assert.Equal(0.2327, loose.NormalReflection, 1e-4);
    }

    [Fact]
    public void What_the_default_table_lacks_is_found_in_the_other_and_nonsense_nowhere()
    {
        Assert.True(SedimentTable.TryFind("medium sand", out SedimentRow? row));
        Assert.Equal(SedimentTableKind.Surficial, row.Table);
        Assert.True(SedimentTable.TryFind("mud", out row));
        Assert.Equal("clayey silt", row.Name);
        Assert.False(SedimentTable.TryFind("custard", out row));
        Assert.Null(row);
    }

    // Regressions of TR 9407 against its table 2 (design checks, section 3: 0.0011, 0.0001 and 0.0002 at most).
    [Fact]
    public void Regressions_on_grain_size_agree_with_the_table()
    {
        int compared = 0;
        foreach (CheckTable.Row row in CheckTable.Read("checks/sediment_table_tr9407.csv").Rows)
        {
            if (!row.Has("mean_grain_size_phi") || row.Number("mean_grain_size_phi") < -1)
                continue;
            double phi = row.Number("mean_grain_size_phi");
            SedimentRow ours = GrainSize.Surficial(phi);
            Assert.Equal(row.Number("density_ratio"), ours.DensityRatio, 0.00115);
            Assert.Equal(row.Number("velocity_ratio"), ours.SpeedRatio, 0.00011);
            Assert.Equal(row.Number("attenuation_dB_per_m_per_kHz"), ours.AttenuationDbPerMetrePerKhz, 0.00026);
            compared++;
        }
        Assert.Equal(20, compared);
        Assert.Throws<ArgumentOutOfRangeException>(() => GrainSize.Surficial(12));
    }

    // Hamilton (1980) as a public library codes it (design check SE-16).
    [Theory]
    [InlineData(1600, 334.2)]
    [InlineData(1700, 418.1)]
    [InlineData(2500, 988.0)]
    public void Shear_speeds_are_those_of_Hamilton(double c, double expected) => Assert.Equal(expected, GrainSize.ShearSpeed(c), 0.05);

    // RT-04 (common practice, no source): loss in the sediment grows with frequency, for every row.
    [Fact]
    public void Loss_grows_with_frequency_in_every_sediment()
    {
        foreach (SedimentRow row in SedimentTable.Rows.Concat(SedimentTable.SurficialRows))
        {
            Sediment sediment = row.Under(Water);
            double last = double.PositiveInfinity;
            for (double f = 2000; f <= 40_000; f *= 1.3)
            {
                double now = Spreading.LegAmplitude(0.9, 1, 0.5, Water, sediment, f);
                Assert.True(now < last, row.FullName);
                last = now;
            }
        }
    }

    [Fact]
    public void No_name_stands_twice_in_a_table()
    {
        Assert.Equal(SedimentTable.Rows.Count, SedimentTable.Rows.Select(r => r.Name).Distinct().Count());
        Assert.Equal(SedimentTable.SurficialRows.Count, SedimentTable.SurficialRows.Select(r => r.Name).Distinct().Count());
    }
}
