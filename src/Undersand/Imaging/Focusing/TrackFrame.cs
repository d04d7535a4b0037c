using System.Runtime.Intrinsics;

namespace Undersand.Imaging.Focusing;

/// <summary>What is ahead and what astern.</summary>
internal static class TrackFrame
{
    /// <summary>How far a place lies ahead of each of eight columns along the track, metres.</summary>
    public static Vector256<float> Along(TileColumns columns, int first, Angle trackAzimuth, float x, float y)
    {
        float east = (float)Math.Sin(trackAzimuth.Radians), north = (float)Math.Cos(trackAzimuth.Radians);
        return (Vector256.Create(x) - TileColumns.Load(columns.X, first)) * east + (Vector256.Create(y) - TileColumns.Load(columns.Y, first)) * north;
    }
}
