namespace Undersand;

/// <summary>A probability, kept as natural log odds so that evidence adds up and extremes stay exact.</summary>
/// <param name="LogOdds">ln(p / (1 − p)).</param>
public readonly record struct Probability(double LogOdds)
{
    /// <summary>The probability itself, 0 to 1.</summary>
    public double Value => 1 / (1 + Math.Exp(-LogOdds));

    /// <summary>From a number between 0 and 1.</summary>
    /// <exception cref="ArgumentOutOfRangeException">The number is not between 0 and 1.</exception>
    public static Probability FromValue(double value)
    {
        if (!(value is >= 0 and <= 1))
            throw new ArgumentOutOfRangeException(nameof(value), value, "a probability lies between 0 and 1");
        return new(Math.Log(value) - Math.Log(1 - value));
    }

    /// <summary>After evidence of the given natural log Bayes factor.</summary>
    public Probability Given(double logBayesFactor) => new(LogOdds + logBayesFactor);
}
