using System.Runtime.Intrinsics;

namespace Undersand.Imaging.Focusing;

/// <summary>One transducer seen from eight columns, in the frame of each column's seabed plane.</summary>
/// <remarks>
/// A voxel at burial b vertically below the plane lies b·cos below it along the normal, at the in-plane offset
/// √(<see cref="OffsetSquared"/> + 2b·<see cref="Drift"/> + b²·sin²) from the transducer's foot.
/// </remarks>
internal struct Leg8
{
    /// <summary>Height above the plane along its normal, metres.</summary>
    public Vector256<float> Height;

    /// <summary>Squared in-plane offset of the column at the seabed, m².</summary>
    public Vector256<float> OffsetSquared;

    /// <summary>Half the growth of the squared offset per metre of burial at the seabed, metres.</summary>
    public Vector256<float> Drift;
}
