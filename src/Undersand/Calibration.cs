using NodaTime;

namespace Undersand;

/// <summary>What turns recorded numbers into pressure and target strength. Absent unless given, and then with date and uncertainty.</summary>
/// <param name="SourcePressureAt1Metre">Peak pressure of the transmitted chirp's envelope on its axis, Pa at 1 m.</param>
/// <param name="PascalPerUnit">Pressure for one unit of the recorded samples.</param>
/// <param name="Date">When it was measured; null if not stated.</param>
/// <param name="UncertaintyDb">One standard deviation, dB.</param>
public sealed record Calibration(double SourcePressureAt1Metre, double PascalPerUnit, LocalDate? Date, double UncertaintyDb);
