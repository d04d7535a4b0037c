using NodaTime;

namespace Undersand.Positioning;

/// <summary>The vehicle at one time.</summary>
/// <param name="Time">UTC.</param>
/// <param name="Pose">Where it was and where it pointed.</param>
public readonly record struct NavigationFix(Instant Time, VehiclePose Pose);
