namespace Undersand.Runs.Tests.Runs;

public class MemoryBudgetTests
{
    private static readonly GridSize Hectare = new(100, 100, 3, 0.05);

    [Fact]
    public void A_hectare_at_five_centimetres_fits_a_laptop() => new MemoryBudget(8e9, 100e9).Require("s", Hectare, looksInHand: 8, looksOfAColumn: 4);

    [Fact]
    public void Too_fine_a_voxel_is_refused_with_one_that_fits()
    {
        var budget = new MemoryBudget(8e9, 20e9);
        GridSize fine = Hectare with { Voxel = 0.002 };
        var refused = Assert.Throws<SurveyException>(() => budget.Require("surveys/c", fine, 8, 4));
        Assert.Matches(@"^surveys/c.survey\.json, image\.voxel_m: voxels of 0\.002 m over 100 m by 100 m and 3 m of burial need .* (memory|disk).* can be had; a voxel of (0\.\d+) m would fit", refused.Message);

        double offered = double.Parse(System.Text.RegularExpressions.Regex.Match(refused.Message, @"a voxel of (0\.\d+) m").Groups[1].Value);
        budget.Require("surveys/c", Hectare with { Voxel = offered }, 8, 4);
        Assert.Throws<SurveyException>(() => budget.Require("surveys/c", Hectare with { Voxel = offered - 0.005 }, 8, 4));
    }

    [Fact]
    public void An_absurd_voxel_is_refused_not_overflowed() =>
        Assert.Contains("PB", Assert.Throws<SurveyException>(() => new MemoryBudget(8e9, 100e9).Require("s", Hectare with { Voxel = 1e-7 }, 8, 4)).Message, StringComparison.Ordinal);

    [Fact]
    public void Where_nothing_fits_the_sentence_says_so() =>
        Assert.Contains("no voxel up to 1 m", Assert.Throws<SurveyException>(() => new MemoryBudget(8e9, 100e9).Require("s", new GridSize(5e6, 5e6, 3, 0.05), 8, 4)).Message, StringComparison.Ordinal);
}
