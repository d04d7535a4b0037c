using System.Runtime.Intrinsics;

namespace Undersand.Imaging.Focusing;

/// <summary>A source seen from eight columns.</summary>
internal struct SourceRow
{
    /// <summary>Room for one, in floats.</summary>
    public const int Floats = 8 * 8;

    public Leg8 Leg;

    /// <summary>Levels between which its leg's weight rises.</summary>
    public Vector256<float> K0, K1;

    public Vector256<float> InverseExtent;

    /// <summary>Whether any column has a level that counts.</summary>
    public bool Reached;

    public void Set(TileColumns columns, Aperture aperture, int column, float x, float y, float z, int last)
    {
        Leg = columns.LegAt(column, x, y, z);
        aperture.Edges(Leg, TileColumns.Load(columns.Cosine, column), out K0, out K1);
        InverseExtent = aperture.InverseExtent(Leg.Height);
        Reached = Vector256.LessThanAny(K0, Vector256.Create((float)last));
    }
}
