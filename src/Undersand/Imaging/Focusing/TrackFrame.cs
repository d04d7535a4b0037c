using System.Runtime.CompilerServices;
using System.Runtime.Intrinsics;

namespace Undersand.Imaging.Focusing;

/// <summary>What is ahead and what astern.</summary>
internal readonly struct TrackFrame(Angle trackAzimuth)
{
    private readonly float _east = (float)Math.Sin(trackAzimuth.Radians), _north = (float)Math.Cos(trackAzimuth.Radians);

    /// <summary>How far a place lies ahead of each of eight columns along the track, metres.</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public Vector256<float> Along(TileColumns columns, int first, float x, float y) =>
        (Vector256.Create(x) - TileColumns.Load(columns.X, first)) * _east + (Vector256.Create(y) - TileColumns.Load(columns.Y, first)) * _north;
}
