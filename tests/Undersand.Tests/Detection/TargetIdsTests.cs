using Undersand.Detection;

namespace Undersand.Tests.Detection;

public class TargetIdsTests
{
    private static Target At(double e, double n, double burial = 1, GridPoint? alternative = null) => new()
    {
        Id = "", Position = new(e, n, 10), HorizontalSd = 0.05, EllipseMajor = 0.05, EllipseMinor = 0.05, EllipseAzimuth = default, Alternative = alternative,
        BurialDepth = new(burial, 0.03), Probability = new(2), LogBayesFactor = 10, MaterialProbabilities = new Dictionary<Material, double> { [Material.Other] = 1 }, LinesSeen = 1, Looks = 1,
    };

    [Fact]
    public void A_target_keeps_its_id_when_it_moves_by_twenty_centimetres_and_others_come_and_go()
    {
        var before = TargetIds.Assign([At(400_000.1, 5_800_000.1), At(400_010, 5_800_000)]);
        var after = TargetIds.Assign([At(400_005, 5_800_003), At(400_010.15, 5_800_000.1), At(400_000.0, 5_799_999.95)], before);
        Assert.Equal(before[1].Id, after[1].Id);
        Assert.Equal(before[0].Id, after[2].Id);
        Assert.DoesNotContain(after[0].Id, before.Select(t => t.Id));
    }

    [Fact]
    public void The_nearest_keeps_the_id_when_one_splits_in_two()
    {
        var before = TargetIds.Assign([At(100, 100)]);
        var after = TargetIds.Assign([At(100.2, 100), At(100.02, 100)], before);
        Assert.Equal(before[0].Id, after[1].Id);
        Assert.NotEqual(before[0].Id, after[0].Id);
    }

    [Fact]
    public void Two_targets_in_one_cell_of_the_lattice_have_different_ids()
    {
        var targets = TargetIds.Assign([At(100, 100, 0.5), At(100, 100, 1.5)]);
        Assert.NotEqual(targets[0].Id, targets[1].Id);
    }

    [Fact]
    public void A_target_shown_on_the_other_side_of_the_track_before_keeps_its_id()
    {
        var before = TargetIds.Assign([At(100, 100, 1, new GridPoint(102, 100, 10))]);
        Assert.Equal(before[0].Id, TargetIds.Assign([At(102, 100)], before)[0].Id);
    }
}
