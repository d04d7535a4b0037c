using NodaTime;

namespace Undersand;

/// <summary>A stretch of a line whose seabed a person laid, straight from one ping to another, because the echoes misled the tracking.</summary>
/// <remarks>The person says where to look, and the echo where it is: where one lies within <see cref="Reach"/> of the straight line, it decides, and is then timed in each trace as everywhere.</remarks>
/// <param name="Line">The recording's file name.</param>
/// <param name="FirstPing">Number of the first ping.</param>
/// <param name="FirstDepth">Depth of the seabed under it, metres below the water surface.</param>
/// <param name="LastPing">Number of the last ping.</param>
/// <param name="LastDepth">Depth under that.</param>
/// <param name="Who">Who laid it.</param>
/// <param name="When">When, UTC.</param>
public sealed record SeabedStretch(string Line, int FirstPing, double FirstDepth, int LastPing, double LastDepth, string Who, Instant When)
{
    /// <summary>How far an echo may lie from what was laid and still be what was meant, metres: about what can be pointed at on a screen. Common practice, no source.</summary>
    public const double Reach = 0.1;

    /// <summary>The stretch that holds under a ping: of several that cover it the last; null where none does.</summary>
    public static SeabedStretch? Holding(IEnumerable<SeabedStretch> stretches, int ping) => stretches.LastOrDefault(s => s.At(ping) is not null);

    /// <summary>The depth laid under a ping; null outside the stretch.</summary>
    public double? At(int ping) => ping < FirstPing || ping > LastPing ? null
        : FirstPing == LastPing ? FirstDepth
        : FirstDepth + (LastDepth - FirstDepth) * (ping - FirstPing) / (LastPing - FirstPing);
}
