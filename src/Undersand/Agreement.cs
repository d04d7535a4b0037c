namespace Undersand;

/// <summary>How far two judges agree beyond chance: Cohen's kappa over accept, doubt and reject.</summary>
/// <remarks>
/// Cohen (1960), Educational and Psychological Measurement 20, 37–46. Standard error after Fleiss, Cohen and Everitt (1969), Psychological Bulletin 72,
/// 323–327, equation for the general case; the interval is kappa ± 1.96 of it, cut at −1 and 1, and only rough below some thirty targets.
/// </remarks>
public sealed class Agreement
{
    private const double Normal95 = 1.959964;

    /// <param name="table">How many targets the first judge (row) and the second (column) called accepted, in doubt, rejected.</param>
    public Agreement(int[,] table)
    {
        int k = table.GetLength(0);
        if (k != table.GetLength(1))
            throw new ArgumentException("a table of agreement is square", nameof(table));
        Table = table;
        Count = table.Cast<int>().Sum();
        if (Count == 0)
            return;
        double P(int i, int j) => (double)table[i, j] / Count;
        double[] rows = [.. Enumerable.Range(0, k).Select(i => Enumerable.Range(0, k).Sum(j => P(i, j)))], columns = [.. Enumerable.Range(0, k).Select(j => Enumerable.Range(0, k).Sum(i => P(i, j)))];
        double observed = Enumerable.Range(0, k).Sum(i => P(i, i)), expected = Enumerable.Range(0, k).Sum(i => rows[i] * columns[i]);
        Same = observed;
        if (expected >= 1)
            return;
        double kappa = (observed - expected) / (1 - expected), on = 0, off = 0;
        for (int i = 0; i < k; i++)
            for (int j = 0; j < k; j++)
                if (i == j)
                    on += P(i, i) * Math.Pow(1 - (rows[i] + columns[i]) * (1 - kappa), 2);
                else
                    off += P(i, j) * Math.Pow(columns[i] + rows[j], 2);
        double variance = on + Math.Pow(1 - kappa, 2) * off - Math.Pow(kappa - expected * (1 - kappa), 2);
        Kappa = new Estimate(kappa, Math.Sqrt(Math.Max(variance, 0) / Count) / (1 - expected));
    }

    /// <summary>The targets that both judged, by what the first (row) and the second (column) said.</summary>
    public int[,] Table { get; }

    /// <summary>Targets that both judged.</summary>
    public int Count { get; }

    /// <summary>Share of them on which both said the same.</summary>
    public double Same { get; }

    /// <summary>Kappa and its standard error; null where it is not defined: nothing judged by both, or both always said the same one thing.</summary>
    public Estimate? Kappa { get; }

    /// <summary>Kappa's interval of 95 %.</summary>
    public (double Low, double High)? Interval => Kappa is { } k ? (Math.Max(-1, k.Value - Normal95 * k.StandardDeviation), Math.Min(1, k.Value + Normal95 * k.StandardDeviation)) : null;

    /// <summary>Of two judges' verdicts, by target; targets that only one judged are left out.</summary>
    public static Agreement Of(IReadOnlyDictionary<string, Judgement> first, IReadOnlyDictionary<string, Judgement> second)
    {
        var table = new int[3, 3];
        foreach (var (id, judgement) in first)
            if (judgement.Verdict is { } one && second.GetValueOrDefault(id)?.Verdict is { } other)
                table[(int)one, (int)other]++;
        return new Agreement(table);
    }
}
