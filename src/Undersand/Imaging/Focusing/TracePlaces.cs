namespace Undersand.Imaging.Focusing;

/// <summary>What the inner loops need of each trace: its places in the tile's frame, and when it starts.</summary>
internal sealed class TracePlaces
{
    public TracePlaces(TileColumns columns, EchoSet echoes, double interval)
    {
        int n = echoes.TraceCount;
        (Sources, Receivers, StartWhole, StartFraction) = (new (float, float, float)[n], new (float, float, float)[n], new int[n], new float[n]);
        for (int t = 0; t < n; t++)
        {
            (Sources[t], Receivers[t]) = (columns.ToLocal(echoes.Sources[t]), columns.ToLocal(echoes.Receivers[t]));
            double start = echoes.StartTimes[t] / interval + 0.5;
            StartWhole[t] = (int)Math.Round(start);
            StartFraction[t] = (float)(start - StartWhole[t]);
        }
    }

    public (float X, float Y, float Z)[] Sources { get; }

    public (float X, float Y, float Z)[] Receivers { get; }

    /// <summary>Start of the trace and half an interval more, in whole intervals and the rest.</summary>
    public int[] StartWhole { get; }

    public float[] StartFraction { get; }
}
