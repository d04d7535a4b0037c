using Undersand.Acoustics;

namespace Undersand.Tests.Acoustics;

public class SoundSpeedTests
{
    // UNESCO check value, S=40, t68=40, p=10000 dbar: 1731.995 m/s (Fofonoff and Millard 1983; seen in public test suites).
    [Fact]
    public void Unesco_gives_its_published_check_value() =>
        Assert.Equal(1731.995, SoundSpeed.Unesco(40, 40, 10_000), 0.001);

    // UNESCO 44, p. 50, table, rounded to 0.1 m/s.
    [Theory]
    [InlineData(35, 0, 0, 1449.1)]
    [InlineData(35, 30, 10_000, 1710.1)]
    public void Unesco_gives_the_printed_table(double salinity, double t68, double pressure, double expected) =>
        Assert.Equal(expected, SoundSpeed.Unesco(t68, salinity, pressure), 0.05);

    // Independent code, design checks SS-09 and SS-11.
    [Fact]
    public void The_forms_of_Wong_and_Zhu_agree_with_an_independent_code()
    {
        Assert.Equal(1489.8321, SoundSpeed.UnescoWongZhu(10, 35, 0), 0.0001);
        Assert.Equal(1489.7894, SoundSpeed.DelGrosso(10, 35, 0), 0.0001);
    }

    // Mackenzie (1981): 1550.744 m/s for 25 °C, 35, 1000 m, the paper's own value as ten public tests have it.
    [Fact]
    public void Mackenzie_gives_its_published_check_value() =>
        Assert.Equal(1550.744, SoundSpeed.Mackenzie(25, 35, 1000), 0.001);

    // Documentation of the standard's library, gsw_sound_speed: SA, CT, p of its first and last check casts.
    [Theory]
    [InlineData(34.7118, 28.7856, 10, 1542.426412426)]
    [InlineData(34.7324, 4.4036, 1000, 1484.271672296)]
    public void Teos10_gives_the_documented_values(double sa, double ct, double p, double expected) =>
        Assert.Equal(expected, Teos10.SoundSpeed(sa, ct, p), 1e-6);

    // tests/data/teos10_reference.csv, made by tests/reference/teos10_reference.py with gsw 3.6.16.
    [Fact]
    public void Teos10_agrees_with_the_library_of_the_standard()
    {
        foreach (CheckTable.Row row in CheckTable.Read("teos10_reference.csv").Rows)
        {
            double t = row.Number("t90_C"), p = row.Number("p_dbar"), sr = Teos10.ReferenceSalinity(row.Number("S_pss"));
            double ct = Teos10.ConservativeTemperature(sr, t, p);
            Assert.Equal(row.Number("SR_g_kg"), sr, 1e-8);
            Assert.Equal(row.Number("pt0_C"), Teos10.PotentialTemperature(sr, t, p), 2e-9);
            Assert.Equal(row.Number("CT_C"), ct, 2e-9);
            Assert.Equal(row.Number("density_kg_m3"), Teos10.Density(sr, ct, p), 1e-6);
            Assert.Equal(row.Number("sound_speed_m_s"), Teos10.SoundSpeed(sr, ct, p), 2e-8);
        }
    }

    // tests/data/checks/sound_speed_seawater.csv: independent codes, four printed digits; empty where a formula is not valid.
    [Fact]
    public void Every_formula_agrees_with_the_table()
    {
        int compared = 0;
        foreach (CheckTable.Row row in CheckTable.Read("checks/sound_speed_seawater.csv").Rows)
        {
            double t = row.Number("t90_C"), S = row.Number("S_pss"), p = row.Number("p_dbar");
            Compare("unesco83_chen_millero_m_s", SoundSpeed.Unesco(1.00024 * t, S, p), 1e-4);
            Compare("wong_zhu_chen_millero_m_s", SoundSpeed.UnescoWongZhu(t, S, p), 1e-4);
            Compare("wong_zhu_del_grosso_m_s", SoundSpeed.DelGrosso(t, S, p), 1e-4);
            Compare("mackenzie_1981_m_s_at_depth", SoundSpeed.Mackenzie(t, S, row.Number("depth_m_lat45")), 1e-4);
            double sr = Teos10.ReferenceSalinity(S);
            Compare("teos10_75term_m_s", Teos10.SoundSpeed(sr, Teos10.ConservativeTemperature(sr, t, p), p), 1e-6);

            void Compare(string column, double actual, double tolerance)
            {
                if (!row.Has(column))
                    return;
                Assert.Equal(row.Number(column), actual, tolerance);
                compared++;
            }
        }
        Assert.True(compared > 1000, $"only {compared} values were compared");
    }

    // Near-shore case, design check SS-20: S=30, 15 °C, 20 dbar.
    [Fact]
    public void The_formulas_agree_near_the_shore()
    {
        double sr = Teos10.ReferenceSalinity(30);
        Assert.Equal(1501.189, SoundSpeed.Unesco(1.00024 * 15, 30, 20), 0.0005);
        Assert.Equal(1501.168, SoundSpeed.DelGrosso(15, 30, 20), 0.0005);
        Assert.Equal(1501.173, Teos10.SoundSpeed(sr, Teos10.ConservativeTemperature(sr, 15, 20), 20), 0.002);
        Assert.Equal(1501.173, SoundSpeed.OfSeaWater(15, 30, 19.835), 0.002);
    }

    // Design check SS-21: S 30–38, 0–30 °C, 0–100 dbar: no two formulas differ by 0.36 m/s.
    [Fact]
    public void No_two_formulas_differ_by_more_than_36_centimetres_a_second()
    {
        for (double t = 0; t <= 30; t += 2.5)
            for (double S = 30; S <= 38; S += 2)
                for (double p = 0; p <= 100; p += 25)
                {
                    double sr = Teos10.ReferenceSalinity(S);
                    double[] c = [SoundSpeed.Unesco(1.00024 * t, S, p), SoundSpeed.UnescoWongZhu(t, S, p), SoundSpeed.DelGrosso(t, S, p),
                        SoundSpeed.Mackenzie(t, S, p * 0.9916), Teos10.SoundSpeed(sr, Teos10.ConservativeTemperature(sr, t, p), p)];
                    Assert.True(c.Max() - c.Min() < 0.36, $"{t} °C, S {S}, {p} dbar: {string.Join(", ", c)}");
                }
    }

    // gsw.p_from_z at latitude 45°: 5.0410, 50.4153, 100.8429, 1010.6370 (gsw 3.6.16); Saunders' formula is of 1981.
    [Theory]
    [InlineData(5, 5.0410)]
    [InlineData(50, 50.4153)]
    [InlineData(100, 100.8429)]
    [InlineData(1000, 1010.6370)]
    public void Pressure_at_depth_is_within_a_permille_of_the_standard(double depth, double expected) =>
        Assert.Equal(expected, SoundSpeed.PressureAt(depth), 1e-3 * expected);

    // RT-02 (common practice, no source): water over air 4.2–4.7; RT-01: 340 m/s in air, 331.3 √(1 + t/273.15) from memory.
    [Fact]
    public void Sound_is_some_four_and_a_half_times_as_fast_in_the_sea_as_in_air() =>
        Assert.InRange(SoundSpeed.OfSeaWater(15, 35, 0) / (331.3 * Math.Sqrt(1 + 15 / 273.15)), 4.2, 4.7);

    [Theory]
    [InlineData(41, 35, 0)]
    [InlineData(10, -1, 0)]
    [InlineData(10, 35, -1)]
    [InlineData(double.NaN, 35, 0)]
    public void What_is_no_sea_water_is_refused(double temperature, double salinity, double depth) =>
        Assert.Throws<ArgumentOutOfRangeException>(() => SoundSpeed.OfSeaWater(temperature, salinity, depth));
}
