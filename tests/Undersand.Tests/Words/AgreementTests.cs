namespace Undersand.Tests.Words;

public class AgreementTests
{
    // Example of ci.kappa in the R package statpsych (Bonett): 0.6756757, standard error 0.07344761, 95 % 0.5317210 to 0.8196303.
    [Fact]
    public void Kappa_its_error_and_its_interval_are_those_of_a_published_example()
    {
        var agreement = new Agreement(new[,] { { 31, 12 }, { 4, 58 } });
        Assert.Equal(0.6756757, agreement.Kappa!.Value.Value, 5e-8);
        Assert.Equal(0.07344761, agreement.Kappa.Value.StandardDeviation, 5e-9);
        Assert.Equal(0.5317210, agreement.Interval!.Value.Low, 5e-8);
        Assert.Equal(0.8196303, agreement.Interval.Value.High, 5e-8);
    }

    // Fleiss (1981), Statistical Methods for Rates and Proportions, p. 213: 100 patients, three diagnoses, kappa 0.68.
    [Fact]
    public void Three_classes_give_the_textbooks_kappa() =>
        Assert.Equal(0.68, new Agreement(new[,] { { 75, 1, 4 }, { 5, 4, 1 }, { 0, 0, 10 } }).Kappa!.Value.Value, 0.005);

    [Fact]
    public void Where_both_always_say_the_same_one_thing_or_nothing_kappa_is_not_defined()
    {
        Assert.Null(new Agreement(new[,] { { 5, 0 }, { 0, 0 } }).Kappa);
        Assert.Null(new Agreement(new int[3, 3]).Kappa);
        Assert.Equal(1, new Agreement(new[,] { { 5, 0 }, { 0, 4 } }).Kappa!.Value.Value);
    }
}
