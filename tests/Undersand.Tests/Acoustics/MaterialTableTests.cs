using Undersand.Acoustics;

namespace Undersand.Tests.Acoustics;

public class MaterialTableTests
{
    // tests/data/checks/materials.csv; the order of rows is the same.
    [Fact]
    public void Materials_and_their_reflection_are_those_of_the_table()
    {
        List<CheckTable.Row> rows = [.. CheckTable.Read("checks/materials.csv").Rows];
        Assert.Equal(rows.Count, MaterialTable.Rows.Count);
        foreach ((CheckTable.Row row, MaterialRow ours) in rows.Zip(MaterialTable.Rows))
        {
            Assert.StartsWith(ours.Name.Split(',', ' ')[0], row.Text("material"));
            Assert.Equal(row.Number("density_kg_m3"), ours.Density);
            Assert.Equal(row.Number("cp_m_s"), ours.CompressionalSpeed);
            Assert.Equal(row.Has("cs_m_s") ? row.Number("cs_m_s") : null, ours.ShearSpeed);
            Assert.Equal(row.Number("R_in_water_1025_1500"), ours.NormalReflection(1025, 1500), 0.6e-4);
            Assert.Equal(row.Number("R_in_sand_1950_1650"), ours.NormalReflection(1950, 1650), 0.6e-4);
            Assert.Equal(row.Number("R_in_mud_1300_1480"), ours.NormalReflection(1300, 1480), 0.6e-4);
        }
    }

    // Quinn, Bull and Dix (1998), Marine Geophysical Researches 20, measured −0.26 over a buried wooden wreck: the sign is what we hold to (MA-09, MA-10).
    [Fact]
    public void Wood_across_the_grain_is_a_negative_reflector_in_sand()
    {
        foreach (string name in new[] { "oak, across the grain", "oak, degraded", "pine" })
        {
            Assert.True(MaterialTable.TryFind(name, out MaterialRow? wood));
            Assert.True(wood.NormalReflection(1950, 1650) < 0);
        }
        Assert.False(MaterialTable.TryFind("unobtainium", out _));
    }

    // RT-02 (common practice, no source): sound is faster in iron, granite and oak along the grain than in water.
    [Fact]
    public void Stiff_solids_are_faster_than_water()
    {
        foreach (string name in new[] { "iron, cast", "granite", "oak, along the grain" })
            Assert.True(MaterialTable.TryFind(name, out MaterialRow? row) && row.CompressionalSpeed > 1500);
    }
}
