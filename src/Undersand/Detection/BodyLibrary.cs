using System.Numerics;
using Undersand.Acoustics;
using Undersand.Imaging;

namespace Undersand.Detection;

/// <summary>What the echoes of spheres of known stuff and size look like in the survey's own band and sediment, counted from the place of their top.</summary>
/// <remarks>
/// In a band of a few octaves the echo of an elastic body is a front, a back and ringing that overlap, and its envelope begins up to 5 cm away from where the body does.
/// The exact form functions (<see cref="SphereScattering"/>, straight back) say by how much. Stones, shot and jars aren't spheres; what carries over is how
/// front, back and ringing follow each other. See docs/science/targets.md.
/// </remarks>
internal sealed class BodyLibrary
{
    private const double SmallestRadius = 0.045, GreatestRadius = 0.17, RadiusStep = 1.065;
    private const double FrequencyStep = 250;
    // Places counted from the top, metres, upwards negative.
    private const double FirstPlace = -0.6, LastPlace = 0.9, PlaceStep = 0.005;
    private readonly Survey _survey;
    private readonly double[] _frequencies, _weights;
    private readonly double _carrier;

    /// <param name="survey">For the sediment.</param>
    /// <param name="pulse">Spectrum of the compressed pulse.</param>
    public BodyLibrary(Survey survey, PulseSpectrum pulse)
    {
        _survey = survey;
        int count = Math.Max(2, (int)Math.Ceiling((pulse.HighFrequency - pulse.LowFrequency) / FrequencyStep));
        _frequencies = [.. Enumerable.Range(0, count).Select(i => pulse.LowFrequency + (i + 0.5) * (pulse.HighFrequency - pulse.LowFrequency) / count)];
        double sum = _frequencies.Sum(pulse.WeightAt);
        _weights = [.. _frequencies.Select(f => pulse.WeightAt(f) / sum)];
        _carrier = 0.5 * (pulse.LowFrequency + pulse.HighFrequency);
        Entries = [.. Spheres().Select(s => new Entry(s.Name, s.Class, s.Sphere.Radius, Spectrum(s.Sphere)))];
    }

    /// <summary>The bodies.</summary>
    public IReadOnlyList<Entry> Entries { get; }

    /// <summary>The images of all bodies in a column, each on a fine grid about its top, in metres of scattering length; after a burial's absorption.</summary>
    public Images ImagesAt(double burial)
    {
        int places = (int)Math.Round((LastPlace - FirstPlace) / PlaceStep) + 1;
        double loss = _survey.Sediment.AttenuationDbPerMetrePerKhz * 2 * burial / 20e3;
        var images = new Complex[Entries.Count][];
        var turns = new Complex[places * _frequencies.Length];
        for (int p = 0; p < places; p++)
            for (int i = 0; i < _frequencies.Length; i++)
                // Turned back by the carrier, so that it may be interpolated.
                turns[p * _frequencies.Length + i] = Complex.FromPolarCoordinates(Math.Pow(10, -loss * _frequencies[i]),
                    4 * Math.PI * (_frequencies[i] - _carrier) * (FirstPlace + p * PlaceStep) / _survey.Sediment.SoundSpeed);
        // The gain undoes absorption for the pulse's peak.
        double gain = 1 / Math.Max(_frequencies.Select((f, i) => _weights[i] * Math.Pow(10, -loss * f)).Sum(), 1e-12);
        for (int e = 0; e < images.Length; e++)
        {
            images[e] = new Complex[places];
            for (int p = 0; p < places; p++)
            {
                Complex sum = 0;
                for (int i = 0; i < _frequencies.Length; i++)
                    sum += Entries[e].Spectrum[i] * turns[p * _frequencies.Length + i];
                images[e][p] = gain * sum;
            }
        }
        return new Images(images, 4 * Math.PI * _carrier / _survey.Sediment.SoundSpeed);
    }

    // What rings least and what is listed: everything else lies between.
    private static IEnumerable<(string Name, Material Class, Sphere Sphere)> Spheres()
    {
        for (double radius = SmallestRadius; radius <= GreatestRadius; radius *= RadiusStep)
        {
            yield return (Rigid, Material.Other, Sphere.Rigid(radius));
            foreach (var row in MaterialTable.Rows)
                if (row.ShearSpeed is not null)
                    yield return (row.Name, row.Class, Sphere.Of(radius, row));
        }
    }

    /// <summary>Name of what doesn't ring at all.</summary>
    public const string Rigid = "rigid";

    private Complex[] Spectrum(Sphere sphere)
    {
        var scattering = new SphereScattering(sphere, _survey.Sediment.Density, _survey.Sediment.SoundSpeed);
        // The paper counts phase with e^(−iωt) from the centre; here it is e^(+iωt) from the top, a radius each way earlier.
        return [.. _frequencies.Select((f, i) => _weights[i] * Complex.Conjugate(scattering.ModesAt(f).ScatteringLength(-1))
            * Complex.FromPolarCoordinates(1, -4 * Math.PI * f * sphere.Radius / _survey.Sediment.SoundSpeed))];
    }

    /// <summary>A body of the library.</summary>
    /// <param name="Name">Of its stuff.</param>
    /// <param name="Material">Its class.</param>
    /// <param name="Radius">Metres.</param>
    /// <param name="Spectrum">Of its compressed echo, counted from its top.</param>
    internal sealed record Entry(string Name, Material Material, double Radius, Complex[] Spectrum);

    /// <summary>The images of all bodies at one burial.</summary>
    /// <param name="values">Turned back by the carrier.</param>
    /// <param name="rate">Radians a metre that they were turned back.</param>
    internal sealed class Images(Complex[][] values, double rate)
    {
        /// <summary>A place counted from a body's top, metres, downwards positive: where it lies in the tables.</summary>
        public Seat SeatOf(double place)
        {
            double x = (place - FirstPlace) / PlaceStep;
            int i = (int)Math.Floor(x);
            return i < 0 || i >= values[0].Length - 1 ? new(-1, 0, 0) : new(i, x - i, Complex.FromPolarCoordinates(1, rate * place));
        }

        /// <summary>The image of a body there.</summary>
        public Complex At(int entry, in Seat seat)
        {
            if (seat.Index < 0)
                return 0;
            var table = values[entry];
            return (table[seat.Index] + seat.Part * (table[seat.Index + 1] - table[seat.Index])) * seat.Turn;
        }
    }

    /// <summary>Where a place lies in the tables.</summary>
    internal readonly record struct Seat(int Index, double Part, Complex Turn);
}
