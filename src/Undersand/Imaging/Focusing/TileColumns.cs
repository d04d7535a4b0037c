using System.Runtime.CompilerServices;
using System.Runtime.InteropServices;
using System.Runtime.Intrinsics;

namespace Undersand.Imaging.Focusing;

/// <summary>The columns of a tile over a line's seabed, in metres from the middle of the tile; a whole tile of them, those outside marked invalid.</summary>
internal sealed class TileColumns
{
    public const int Size = VoxelGrid.TileSize, Count = Size * Size;

    public TileColumns(VoxelGrid grid, TileIndex tile, LineSurface surface)
    {
        CountX = Math.Clamp(grid.CountX - tile.X * Size, 0, Size);
        CountY = Math.Clamp(grid.CountY - tile.Y * Size, 0, Size);
        OriginEasting = grid.EastingAt(tile.X * Size + 0.5 * (Size - 1));
        OriginNorthing = grid.NorthingAt(tile.Y * Size + 0.5 * (Size - 1));
        for (int i = 0; i < Count; i++)
            Depth[i] = double.NaN;
        for (int iy = 0; iy < Size; iy++)
            for (int ix = 0; ix < Size; ix++)
                Place(grid, tile, surface, ix, iy);
        FinishDepths();
    }

    public int CountX { get; }

    public int CountY { get; }

    public double OriginEasting { get; }

    public double OriginNorthing { get; }

    /// <summary>The depth that single-precision depths count from: that of the first valid column.</summary>
    public double OriginDepth { get; private set; } = double.NaN;

    public bool AnyValid => !double.IsNaN(OriginDepth);

    /// <summary>Range of depths of the valid columns.</summary>
    public double LeastDepth { get; private set; } = double.PositiveInfinity;

    public double GreatestDepth { get; private set; } = double.NegativeInfinity;

    public double[] Easting { get; } = new double[Count];

    public double[] Northing { get; } = new double[Count];

    public double[] Depth { get; } = new double[Count];

    public double[] SlopeEast { get; } = new double[Count];

    public double[] SlopeNorth { get; } = new double[Count];

    public float[] X { get; } = new float[Count];

    public float[] Y { get; } = new float[Count];

    public float[] Z { get; } = new float[Count];

    public float[] GradientX { get; } = new float[Count];

    public float[] GradientY { get; } = new float[Count];

    public float[] Cosine { get; } = new float[Count];

    /// <summary>Squared sine of the slope.</summary>
    public float[] SineSquared { get; } = new float[Count];

    /// <summary>1 where the column is in the grid and has a seabed, else 0.</summary>
    public int[] Valid { get; } = new int[Count];

    /// <summary>A place in the single-precision frame of the tile.</summary>
    public (float X, float Y, float Z) ToLocal(GridPoint p) =>
        ((float)(p.Easting - OriginEasting), (float)(p.Northing - OriginNorthing), (float)(p.Depth - OriginDepth));

    /// <summary>A transducer as seen from the eight columns from <paramref name="first"/> on.</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public Leg8 LegAt(int first, float x, float y, float z)
    {
        Vector256<float> dx = Load(X, first) - Vector256.Create(x), dy = Load(Y, first) - Vector256.Create(y), dz = Load(Z, first) - Vector256.Create(z);
        Vector256<float> cosine = Load(Cosine, first);
        Vector256<float> gx = Load(GradientX, first), gy = Load(GradientY, first);
        Leg8 leg;
        leg.Height = (dz - gx * dx - gy * dy) * cosine;
        Vector256<float> fall = leg.Height * cosine, wx = dx + gx * fall, wy = dy + gy * fall;
        leg.Drift = dz - fall;
        leg.OffsetSquared = wx * wx + wy * wy + leg.Drift * leg.Drift;
        return leg;
    }

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static Vector256<float> Load(float[] values, int first) =>
        Vector256.LoadUnsafe(ref MemoryMarshal.GetArrayDataReference(values), (nuint)first);

    private void Place(VoxelGrid grid, TileIndex tile, LineSurface surface, int ix, int iy)
    {
        int i = iy * Size + ix;
        Easting[i] = grid.EastingAt(tile.X * Size + ix);
        Northing[i] = grid.NorthingAt(tile.Y * Size + iy);
        X[i] = (float)(Easting[i] - OriginEasting);
        Y[i] = (float)(Northing[i] - OriginNorthing);
        Cosine[i] = 1;
        if (ix >= CountX || iy >= CountY)
            return;
        surface.At(Easting[i], Northing[i], out Depth[i], out SlopeEast[i], out SlopeNorth[i]);
        if (!double.IsFinite(Depth[i] + SlopeEast[i] + SlopeNorth[i]))
        {
            (Depth[i], SlopeEast[i], SlopeNorth[i]) = (double.NaN, 0, 0);
            return;
        }
        Valid[i] = 1;
        double steepness = SlopeEast[i] * SlopeEast[i] + SlopeNorth[i] * SlopeNorth[i];
        (GradientX[i], GradientY[i]) = ((float)SlopeEast[i], (float)SlopeNorth[i]);
        Cosine[i] = (float)(1 / Math.Sqrt(1 + steepness));
        SineSquared[i] = (float)(steepness / (1 + steepness));
        LeastDepth = Math.Min(LeastDepth, Depth[i]);
        GreatestDepth = Math.Max(GreatestDepth, Depth[i]);
        if (double.IsNaN(OriginDepth))
            OriginDepth = Depth[i];
    }

    private void FinishDepths()
    {
        for (int i = 0; i < Count; i++)
            Z[i] = Valid[i] != 0 ? (float)(Depth[i] - OriginDepth) : 0;
    }
}
