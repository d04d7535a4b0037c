using Undersand.Detection;

namespace Undersand.Tests.Detection;

public class ReliabilityTests
{
    [Fact]
    public void Brier_score_and_its_parts_are_the_published_ones()
    {
        // checks.md ST-16 (Murphy 1973).
        double[] p = [.9, .8, .8, .3, .3, .1, .1, .1, .1, .1];
        bool[] o = [true, true, false, false, true, false, false, false, false, false];
        var r = Reliability.Of(p, o);
        Assert.Equal(0.132, r.Score, 1e-12);
        Assert.Equal(0.032, r.Calibration, 1e-12);
        Assert.Equal(0.110, r.Resolution, 1e-12);
        Assert.Equal(0.210, r.Uncertainty, 1e-12);
        Assert.Equal(r.Score, r.Calibration - r.Resolution + r.Uncertainty, 1e-12);
    }
}
