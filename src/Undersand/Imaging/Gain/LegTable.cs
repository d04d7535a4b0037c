using Undersand.Acoustics;

namespace Undersand.Imaging.Gain;

/// <summary>What a leg between a transducer and a voxel does to the amplitude, tabulated over height, offset and level.</summary>
internal sealed class LegTable
{
    private const double HeightStep = 0.1, OffsetStep = 0.04;
    private readonly double _lowest;
    private readonly int _heights, _offsets, _levels;
    private readonly float[] _down, _up, _length;

    /// <summary>For heights from <paramref name="lowest"/> to <paramref name="highest"/> and offsets up to <paramref name="farthest"/>, at the given burials.</summary>
    public LegTable(double lowest, double highest, double farthest, double[] burials, Survey survey, ImagingSettings settings)
    {
        Burials = burials;
        _lowest = Math.Max(0.02, lowest - HeightStep);
        _heights = (int)Math.Ceiling((highest - _lowest) / HeightStep) + 2;
        _offsets = (int)Math.Ceiling(farthest / OffsetStep) + 2;
        _levels = burials.Length;
        (_down, _up, _length) = (new float[_heights * _offsets * _levels], new float[_heights * _offsets * _levels], new float[_heights * _offsets * _levels]);
        var seabed = new PlaneInterface(survey.Water, survey.Sediment);
        double density = survey.Water.Density / survey.Sediment.Density, c1 = survey.Water.SoundSpeed, c2 = survey.Sediment.SoundSpeed;
        for (int i = 0, at = 0; i < _heights; i++)
            for (int j = 0; j < _offsets; j++)
                for (int k = 0; k < _levels; k++, at++)
                {
                    var leg = Refraction.Leg(_lowest + i * HeightStep, burials[k], j * OffsetStep, c1, c2);
                    double spreading = settings.UndoSpreading ? Spreading.Amplitude(leg, c1, c2) : 1;
                    var angle = new Angle(Math.Asin(Math.Min(leg.SineInWater, 1)));
                    double beam = Beam(survey.Array, angle);
                    _down[at] = (float)(spreading * beam * (settings.UndoTransmission ? seabed.TransmissionDown(angle).Magnitude : 1));
                    // The way back by reciprocity: ρ₁/ρ₂ of the way down (docs/science/reflection-and-transmission.md).
                    _up[at] = settings.UndoTransmission ? (float)(_down[at] * density) : _down[at];
                    _length[at] = (float)leg.SedimentLength;
                }
    }

    /// <summary>The burials tabulated, metres.</summary>
    public double[] Burials { get; }

    /// <summary>Looks a leg up at every burial: its amplitude (way down, or way back) and its length in the sediment.</summary>
    public void At(double height, double offset, bool wayBack, Span<double> amplitude, Span<double> length)
    {
        double h = Math.Clamp((height - _lowest) / HeightStep, 0, _heights - 1.001), x = Math.Clamp(offset / OffsetStep, 0, _offsets - 1.001);
        int i = (int)h, j = (int)x;
        double fh = h - i, fx = x - j;
        float[] table = wayBack ? _up : _down;
        int a = (i * _offsets + j) * _levels, b = a + _levels, c = a + _offsets * _levels, d = c + _levels;
        for (int k = 0; k < _levels; k++)
        {
            amplitude[k] = (1 - fh) * ((1 - fx) * table[a + k] + fx * table[b + k]) + fh * ((1 - fx) * table[c + k] + fx * table[d + k]);
            length[k] = (1 - fh) * ((1 - fx) * _length[a + k] + fx * _length[b + k]) + fh * ((1 - fx) * _length[c + k] + fx * _length[d + k]);
        }
    }

    private static double Beam(ArrayDescription? array, Angle angle)
    {
        if (array is null || array.BeamPattern.Count == 0)
            return 1;
        var points = array.BeamPattern;
        int i = 0;
        while (i < points.Count - 2 && points[i + 1].Angle.Radians < angle.Radians)
            i++;
        if (points.Count == 1)
            return Math.Pow(10, points[0].LevelDb / 20);
        double span = points[i + 1].Angle.Radians - points[i].Angle.Radians, part = span > 0 ? Math.Clamp((angle.Radians - points[i].Angle.Radians) / span, 0, 1) : 0;
        return Math.Pow(10, (points[i].LevelDb + part * (points[i + 1].LevelDb - points[i].LevelDb)) / 20);
    }
}
