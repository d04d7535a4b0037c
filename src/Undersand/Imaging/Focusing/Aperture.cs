using System.Runtime.CompilerServices;
using System.Runtime.Intrinsics;

namespace Undersand.Imaging.Focusing;

/// <summary>Which levels of a column a leg serves, and with what weight; which group a trace belongs to.</summary>
/// <remarks>
/// A leg at angle θ in the water reaches the offset h·tan θ + z·tan θ₂ at burial z below the seabed plane, so the burial from which the leg is
/// inside the angle follows without solving for a ray. Between the burials of the outer and the inner angle the weight rises linearly with level:
/// w(k) = clamp((k − K₀) / (K₁ − K₀), 0, 1), where K₀ and K₁ are the greater of the two legs'. On a slope the offset is linearised in burial.
/// All in single precision, written once for a vector of columns, so that every engine takes the same decisions to the last bit.
/// </remarks>
internal sealed class Aperture
{
    public const float Never = 1e9f;
    /// <summary>The shortest rise of a weight, in levels.</summary>
    public const float ShortestRamp = 0.01f;
    private const float LeastHeight = 0.01f, LeastOffset = 1e-3f;

    private readonly float _outerWater, _outerSediment, _innerWater, _innerSediment;
    private readonly float _firstBurial, _perLevel;

    public Aperture(FocusSettings settings, VoxelGrid grid)
    {
        double c1 = settings.WaterSoundSpeed, c2 = settings.SedimentSoundSpeed;
        double outer = settings.MaxAngle.Radians;
        if (c2 > c1)
            outer = Math.Min(outer, Math.Asin(c1 / c2) - settings.CriticalMargin.Radians);
        double inner = outer - settings.Taper.Radians;
        if (!(inner > 0))
            throw new ArgumentException($"the taper of {settings.Taper.Degrees:0.##}° leaves nothing of an aperture of {outer * (180 / Math.PI):0.##}°", nameof(settings));
        (OuterAngle, Groups) = (outer, settings.Groups);
        (Outer, Inner) = (Cone.At(outer, c1, c2), Cone.At(inner, c1, c2));
        (_outerWater, _outerSediment) = ((float)Outer.Water, (float)Outer.Sediment);
        (_innerWater, _innerSediment) = ((float)Inner.Water, (float)Inner.Sediment);
        _firstBurial = (float)grid.FirstBurial;
        _perLevel = (float)(1 / grid.Spacing);
        GroupReach = (float)settings.GroupBurial * _outerSediment;
    }

    /// <summary>The greatest angle in the water, radians, after the critical angle was minded.</summary>
    public double OuterAngle { get; }

    /// <summary>Where the weight begins, and where it has become 1.</summary>
    public Cone Outer { get; }
    public Cone Inner { get; }

    public int Groups { get; }

    private float GroupReach { get; }

    /// <summary>The greatest horizontal offset at which a leg still counts, for a height and a burial, over level seabed.</summary>
    public double Reach(double height, double burial) => height * _outerWater + burial * _outerSediment;

    /// <summary>The burials below level seabed between which the weight of a trace rises from 0 to 1, by the heights and offsets of its two ends.</summary>
    public (double Open, double Full) Burials(double sourceHeight, double sourceOffset, double receiverHeight, double receiverOffset) =>
        (Math.Max(Outer.Opening(sourceHeight, sourceOffset), Outer.Opening(receiverHeight, receiverOffset)),
         Math.Max(Inner.Opening(sourceHeight, sourceOffset), Inner.Opening(receiverHeight, receiverOffset)));

    /// <summary>The levels K₀ and K₁ of one leg, eight columns at a time.</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public void Edges(in Leg8 leg, Vector256<float> cosine, out Vector256<float> k0, out Vector256<float> k1)
    {
        Vector256<float> offset = Vector256.Sqrt(leg.OffsetSquared);
        Vector256<float> drift = leg.Drift / Vector256.Max(offset, Vector256.Create(LeastOffset));
        k0 = Edge(leg.Height, offset, drift, cosine, _outerWater, _outerSediment);
        k1 = Edge(leg.Height, offset, drift, cosine, _innerWater, _innerSediment);
        Vector256<float> above = Vector256.GreaterThan(leg.Height, Vector256.Create(LeastHeight));
        k0 = Vector256.ConditionalSelect(above, k0, Vector256.Create(Never));
        k1 = Vector256.ConditionalSelect(above, k1, Vector256.Create(Never));
    }

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private Vector256<float> Edge(Vector256<float> height, Vector256<float> offset, Vector256<float> drift, Vector256<float> cosine, float water, float sediment)
    {
        Vector256<float> missing = offset - height * water;
        Vector256<float> gain = Vector256.Max(cosine * sediment - drift, Vector256.Create(0.05f * sediment));
        Vector256<float> level = (missing / gain - Vector256.Create(_firstBurial)) * _perLevel;
        return Vector256.Min(Vector256.Max(level, Vector256.Create(-Never)), Vector256.Create(Never));
    }

    /// <summary>1 / (K₁ − K₀), never steeper than a hundred a level.</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static Vector256<float> Slope(Vector256<float> k0, Vector256<float> k1) =>
        Vector256<float>.One / Vector256.Max(k1 - k0, Vector256.Create(ShortestRamp));

    /// <summary>Half the along-track extent of the aperture at the burial where the groups are equal, inverted.</summary>
    public Vector256<float> InverseExtent(Vector256<float> height) =>
        Vector256<float>.One / (Vector256.Max(height, Vector256.Create(LeastHeight)) * _outerWater + Vector256.Create(GroupReach));

    /// <summary>The group, from 0 astern to the last ahead, of a trace whose midpoint lies <paramref name="along"/> metres ahead of the column.</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public Vector256<int> Group(Vector256<float> along, Vector256<float> inverseExtent)
    {
        Vector256<float> place = (along * inverseExtent + Vector256<float>.One) * (0.5f * Groups);
        place = Vector256.Min(Vector256.Max(place, Vector256<float>.Zero), Vector256.Create(Groups - 0.5f));
        return Vector256.ConvertToInt32Native(place);
    }
}
