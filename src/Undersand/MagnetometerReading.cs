using NodaTime;

namespace Undersand;

/// <summary>A row of magnetometer.csv.</summary>
/// <param name="Time">UTC.</param>
/// <param name="Position">Where the sensor was.</param>
/// <param name="TotalFieldNanotesla">The total field, nT.</param>
public readonly record struct MagnetometerReading(Instant Time, GridPoint Position, double TotalFieldNanotesla);
