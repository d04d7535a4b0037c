using System.Numerics;

namespace Undersand.Detection;

/// <summary>Finds where the body begins whose echo a column shows, by holding the exact echoes of a library of spheres against it.</summary>
/// <remarks>
/// Every body, at every place of its top, with a free complex amplitude in every line: misfit over background gives its likelihood, and where amplitudes are
/// calibrated its strength counts too. The top is the mean over all bodies and places by these weights, its spread what the column leaves open.
/// </remarks>
internal static class EchoFit
{
    // Looked for from so far above the first guess to so far below the last; held against the column from there to where ringing has faded, metres.
    private const double SearchAbove = 0.2, SearchBelow = 0.1, Margin = 0.1, Ringing = 0.4, Step = 0.005;
    // Mean cosine of the slant of an aperture's rays in the sediment: stretches the column.
    private static readonly double[] s_cosines = [0.9, 0.93, 0.96];
    // Errors of the model, of its peak amplitude; neighbouring levels err together; decibels that strengths may be off. Judgement, tried on simulated spheres.
    private const double ModelError = 0.05, Tempering = 3, StrengthSd = 6;
    // Much of what is buried rings less than a homogeneous ball.
    private const double RigidShare = 0.6;
    private const double WorstMisfit = 0.3;

    /// <summary>Where a body begins, and what it may be.</summary>
    /// <param name="Top">Burial of its top, metres.</param>
    /// <param name="Sd">Standard deviation, metres.</param>
    /// <param name="Misfit">Part of the column's energy that the best body leaves.</param>
    /// <param name="Evidence">How much better the class's best-fitting bodies explain the echo than one that doesn't ring: a Bayes factor, by class.</param>
    internal sealed record Result(double Top, double Sd, double Misfit, IReadOnlyDictionary<Material, double> Evidence);

    /// <summary>The fit; null where nothing in the library looks like the column.</summary>
    /// <param name="library">The bodies.</param>
    /// <param name="columns">Complex image, level by level, in each supporting line.</param>
    /// <param name="backgrounds">Energy of each line's background.</param>
    /// <param name="first">Burial of level 0.</param>
    /// <param name="spacing">Metres from level to level.</param>
    /// <param name="earliest">Burial at which the first arrival begins by its edge.</param>
    /// <param name="latest">Burial at which the strongest begins.</param>
    /// <param name="isCalibrated">Whether amplitudes are scattering lengths in metres.</param>
    public static Result? Fit(BodyLibrary library, IReadOnlyList<Complex[]> columns, IReadOnlyList<double> backgrounds, double first, double spacing, double earliest, double latest, bool isCalibrated)
    {
        double highest = earliest - SearchAbove;
        int from = Math.Max((int)Math.Ceiling((highest - Margin - first) / spacing), 0), to = Math.Min((int)Math.Floor((latest + Ringing - first) / spacing), columns[0].Length - 1);
        int levels = to - from + 1, places = (int)Math.Round((latest + SearchBelow - highest) / Step) + 1, entries = library.Entries.Count;
        if (levels < 4)
            return null;
        var images = library.ImagesAt(latest);
        var whole = columns.Select(c => c[from..(to + 1)].Sum(v => v.Real * v.Real + v.Imaginary * v.Imaginary)).ToArray();
        var noise = columns.Select((c, l) => Math.Pow(Math.Sqrt(backgrounds[l]) + ModelError * c[from..(to + 1)].Max(v => v.Magnitude), 2)).ToArray();
        var logs = new double[entries * places];
        double total = whole.Zip(noise, (w, n) => w / n).Sum(), least = total;
        Array.Fill(logs, double.NegativeInfinity);
        var model = new Complex[levels];
        var seats = new BodyLibrary.Seat[levels];
        for (int p = 0; p < places; p++)
            foreach (double cosine in s_cosines)
            {
                for (int i = 0; i < levels; i++)
                    seats[i] = images.SeatOf(cosine * (first + (from + i) * spacing - highest - p * Step));
                for (int e = 0; e < entries; e++)
                {
                    double energy = 0;
                    for (int i = 0; i < levels; i++)
                    {
                        model[i] = images.At(e, seats[i]);
                        energy += model[i].Real * model[i].Real + model[i].Imaginary * model[i].Imaginary;
                    }
                    var (misfit, strength) = Misfit(columns, noise, whole, from, model, energy);
                    least = Math.Min(least, misfit);
                    double log = -0.5 * misfit / Tempering - (isCalibrated ? 0.5 * strength * strength / (StrengthSd * StrengthSd) : 0);
                    logs[e * places + p] = Math.Max(logs[e * places + p], log);
                }
            }
        return least > WorstMisfit * total ? null : Mean(library, logs, places, highest, least / total);
    }

    // With the best complex amplitude in each line; its mean level in decibels is how much stronger the column is than the body would be.
    private static (double Misfit, double Strength) Misfit(IReadOnlyList<Complex[]> columns, double[] noise, double[] whole, int from, Complex[] model, double energy)
    {
        double misfit = 0, strength = 0;
        for (int l = 0; l < columns.Count; l++)
        {
            double re = 0, im = 0;
            for (int i = 0; i < model.Length; i++)
            {
                Complex y = columns[l][from + i], m = model[i];
                re += m.Real * y.Real + m.Imaginary * y.Imaginary;
                im += m.Real * y.Imaginary - m.Imaginary * y.Real;
            }
            double common = re * re + im * im;
            misfit += Math.Max(whole[l] - common / energy, 0) / noise[l];
            strength += 10 * Math.Log10(common / (energy * energy) + 1e-30) / columns.Count;
        }
        return (misfit, strength);
    }

    private static Result Mean(BodyLibrary library, double[] logs, int places, double highest, double misfit)
    {
        int rigid = library.Entries.Count(e => e.Name == BodyLibrary.Rigid), rest = library.Entries.Count - rigid;
        double best = logs.Max(), sum = 0, mean = 0, square = 0;
        var shares = new double[library.Entries.Count];
        for (int e = 0; e < shares.Length; e++)
        {
            double prior = library.Entries[e].Name == BodyLibrary.Rigid ? RigidShare / rigid : (1 - RigidShare) / rest;
            for (int p = 0; p < places; p++)
            {
                double weight = prior * Math.Exp(logs[e * places + p] - best), off = p * Step;
                shares[e] += weight;
                sum += weight;
                mean += weight * off;
                square += weight * off * off;
            }
        }
        for (int e = 0; e < shares.Length; e++)
            shares[e] /= sum;
        mean /= sum;
        return new(highest + mean, Math.Sqrt(Math.Max(square / sum - mean * mean, 0) + Step * Step / 12), misfit, EvidenceOf(library, shares));
    }

    private static Dictionary<Material, double> EvidenceOf(BodyLibrary library, double[] shares)
    {
        double rigid = Math.Max(library.Entries.Select((e, i) => e.Name == BodyLibrary.Rigid ? shares[i] : 0).Sum() / RigidShare, 1e-12);
        int rest = library.Entries.Count(e => e.Name != BodyLibrary.Rigid);
        return library.Entries.Select((e, i) => (Entry: e, Share: shares[i])).Where(x => x.Entry.Name != BodyLibrary.Rigid).GroupBy(x => x.Entry.Material)
            .ToDictionary(g => g.Key, g => g.Sum(x => x.Share) / ((1 - RigidShare) * g.Count() / rest) / rigid);
    }
}
