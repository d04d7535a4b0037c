namespace Undersand;

/// <summary>A geographic position on the survey's datum.</summary>
/// <param name="Longitude">Longitude in degrees, east positive.</param>
/// <param name="Latitude">Latitude in degrees, north positive.</param>
public readonly record struct GeoPoint(double Longitude, double Latitude);
