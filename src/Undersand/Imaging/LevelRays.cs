using Undersand.Acoustics;
using Undersand.Imaging.Focusing;

namespace Undersand.Imaging;

/// <summary>Rays from transducers to places below level seabed, and what the summation makes of them.</summary>
internal sealed class LevelRays
{
    private const double LeastHeight = 0.01, LeastBurial = 0.001;
    private readonly double _c1, _c2, _taper;

    public LevelRays(Survey survey, FocusSettings focus)
    {
        (_c1, _c2, OuterAngle, _taper) = (survey.Water.SoundSpeed, survey.Sediment.SoundSpeed, focus.MaxAngle.Radians, focus.Taper.Radians);
        if (Refraction.CriticalAngle(_c1, _c2) is { } critical)
            OuterAngle = Math.Min(OuterAngle, critical.Radians - focus.CriticalMargin.Radians);
    }

    /// <summary>The greatest angle in the water that counts, radians.</summary>
    public double OuterAngle { get; }

    /// <summary>The ray from a transducer.</summary>
    public RefractedLeg Leg(GridPoint transducer, in BuriedPlace to)
    {
        double de = transducer.Easting - to.Easting, dn = transducer.Northing - to.Northing;
        return Refraction.Leg(Math.Max(to.SeabedDepth - transducer.Depth, LeastHeight), Math.Max(to.Burial, LeastBurial), Math.Sqrt(de * de + dn * dn), _c1, _c2);
    }

    /// <summary>The weight that the summation gives a trace with this leg and a flatter other.</summary>
    public double Weight(in RefractedLeg leg) => Math.Clamp((OuterAngle - Math.Asin(Math.Min(1, leg.SineInWater))) / _taper, 0, 1);
}
