using Undersand.Runs.Reporting;

namespace Undersand.Runs.Tests.Reporting;

public class NumbersTests
{
    [Theory]
    [InlineData(0.4237, 0.056, "0.42 ± 0.06")]
    [InlineData(0.4237, 0.0162, "0.424 ± 0.016")]
    [InlineData(1.96, 0.196, "2.0 ± 0.2")]
    [InlineData(0.5, 0.0004, "0.500 ± 0.000")]
    [InlineData(12.34, 3.2, "12 ± 3")]
    [InlineData(-0.004, 0.03, "0.00 ± 0.03")]
    public void A_value_has_no_more_digits_than_its_deviation_carries(double value, double sd, string text) => Assert.Equal(text, Numbers.WithSd(new(value, sd)));

    [Theory]
    [InlineData(1.0, "> 0.99")]
    [InlineData(0.996, "> 0.99")]
    [InlineData(0.994, "0.99")]
    [InlineData(0.5, "0.50")]
    [InlineData(0.004, "< 0.01")]
    [InlineData(0.0, "< 0.01")]
    public void A_probability_is_never_said_to_be_certain(double p, string text) => Assert.Equal(text, Numbers.Probability(p));

    [Theory]
    [InlineData(634, null, "634 m²")]
    [InlineData(634, 1720.0, "0.0634 ha")]
    [InlineData(1720, null, "0.172 ha")]
    public void Areas_beside_each_other_share_a_unit(double area, double? beside, string text) => Assert.Equal(text, Numbers.Area(area, beside));

    [Theory]
    [InlineData(0.001, "< 1 %")]
    [InlineData(0.0, "0 %")]
    [InlineData(0.999, "> 99 %")]
    [InlineData(1.0, "100 %")]
    public void A_share_that_is_not_all_is_not_called_all(double share, string text) => Assert.Equal(text, Numbers.Percent(share));

    [Theory]
    [InlineData(-0.001, 2, "0.00")]
    [InlineData(-0.7, 1, "−0.7")]
    [InlineData(double.NaN, 1, "–")]
    public void Zero_has_no_sign_and_nothing_is_a_dash(double value, int decimals, string text) => Assert.Equal(text, Numbers.Fixed(value, decimals));
}
