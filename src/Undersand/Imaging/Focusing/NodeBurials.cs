using System.Runtime.CompilerServices;
using System.Runtime.Intrinsics;

namespace Undersand.Imaging.Focusing;

/// <summary>Where a polynomial's nodes lie in burial: it runs from the burial where a column's first trace begins to the end of the panel.</summary>
internal static class NodeBurials
{
    /// <summary>Middle and half length of the polynomial's range in the panel's mapped burial.</summary>
    public static void Map(LevelPanel panel, Vector256<float> begins, out Vector256<float> middle, out Vector256<float> half)
    {
        Vector256<float> low = Vector256.Sqrt(begins + Vector256.Create((float)panel.Shift)) - Vector256.Create(panel.Centre);
        middle = 0.5f * (low + Vector256.Create(panel.Greatest));
        half = 0.5f * (Vector256.Create(panel.Greatest) - low);
    }

    /// <summary>Burial of a node, metres.</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static Vector256<float> At(LevelPanel panel, Vector256<float> middle, Vector256<float> half, int node)
    {
        Vector256<float> y = Vector256.FusedMultiplyAdd(half, Vector256.Create(PathPolynomial.NodePlaces[node]), middle) + Vector256.Create(panel.Centre);
        return y * y - Vector256.Create((float)panel.Shift);
    }
}
