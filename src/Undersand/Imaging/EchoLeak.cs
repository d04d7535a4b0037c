using System.Numerics;
using Undersand.Acoustics;
using Undersand.Imaging.Focusing;
using Undersand.Signal;

namespace Undersand.Imaging;

/// <summary>How strongly the echo of a point shows at another place of a line's image: the sidelobes and repeats of the array as it was flown, trace by trace.</summary>
/// <remarks>
/// Traces whose path to the one place is as long as to the other add up there as they do at the point. The differences of the path times are counted in bins far
/// narrower than a period, then the pulse is laid over them. The seabed is level at the depth given for each place. Derivation in docs/science/targets.md.
/// </remarks>
internal sealed class EchoLeak
{
    private const double BinsAPeriod = 40;
    // A body's strongest echo may come that much after its first or before its last, metres of burial: how far bodies ring.
    private const double RingsBefore = 0.3, RingsAfter = 0.5;
    private readonly LevelRays _rays;
    private readonly double _attenuation, _binWidth;
    private readonly int _before, _length;
    private readonly Complex[] _pulse;

    public EchoLeak(PulseCompressor compressor, Survey survey, FocusSettings focus)
    {
        _rays = new LevelRays(survey, focus);
        _attenuation = survey.Sediment.AttenuationDbPerMetrePerKhz * compressor.Carrier / 1000;
        _binWidth = 1 / (BinsAPeriod * compressor.Carrier);
        int half = (int)Math.Ceiling(2 * compressor.PulseWidth / _binWidth);
        _pulse = new Complex[2 * half + 1];
        for (int i = -half; i <= half; i++)
            _pulse[i + half] = PulseShape.At(compressor, 0, i * _binWidth) * Complex.FromPolarCoordinates(1, 2 * Math.PI * compressor.Carrier * i * _binWidth);
        _before = (int)(2 * RingsBefore / survey.Sediment.SoundSpeed / _binWidth) + half;
        _length = _before + (int)(2 * RingsAfter / survey.Sediment.SoundSpeed / _binWidth) + half + 1;
    }

    /// <summary>The greatest amplitude that a body whose strongest echo has unit strength gives in the image of another place, by that echo or by its ringing.</summary>
    /// <param name="traces">Source and receiver of the traces near.</param>
    /// <param name="from">Where the body is.</param>
    /// <param name="to">Where its echo may show.</param>
    public double Greatest(IEnumerable<(GridPoint Source, GridPoint Receiver)> traces, in BuriedPlace from, in BuriedPlace to)
    {
        int half = _pulse.Length / 2;
        var bins = new double[_length];
        double whole = 0;
        GridPoint? last = null;
        RefractedLeg sourceFrom = default, sourceTo = default;
        foreach (var (source, receiver) in traces)
        {
            if (last != source)
                (last, sourceFrom, sourceTo) = (source, _rays.Leg(source, from), _rays.Leg(source, to));
            double weight = _rays.Weight(sourceTo);
            if (weight <= 0)
                continue;
            var receiverTo = _rays.Leg(receiver, to);
            weight = Math.Min(weight, _rays.Weight(receiverTo));
            if (weight <= 0)
                continue;
            var receiverFrom = _rays.Leg(receiver, from);
            whole += weight * Strength(sourceTo, receiverTo);
            // Where the image at the other place reads the trace, less where the echo is in it.
            double later = sourceTo.Time + receiverTo.Time - sourceFrom.Time - receiverFrom.Time;
            int bin = (int)Math.Round(later / _binWidth) + _before;
            if ((uint)bin < (uint)_length)
                bins[bin] += weight * Strength(sourceFrom, receiverFrom);
        }
        double greatest = 0;
        for (int at = half; at < _length - half; at += 4)
        {
            Complex sum = 0;
            for (int i = -half; i <= half; i++)
                if (bins[at + i] != 0)
                    sum += bins[at + i] * _pulse[i + half];
            greatest = Math.Max(greatest, sum.Magnitude);
        }
        return whole > 0 ? greatest / whole : 0;
    }

    private double Strength(in RefractedLeg down, in RefractedLeg up) =>
        Math.Pow(10, -_attenuation * (down.SedimentLength + up.SedimentLength) / 20)
        / ((down.WaterLength + down.SedimentLength) * (up.WaterLength + up.SedimentLength));
}
