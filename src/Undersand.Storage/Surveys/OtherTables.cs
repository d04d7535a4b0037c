using NodaTime;

namespace Undersand.Storage.Surveys;

/// <summary>The smaller tables of a survey: magnetometer.csv, outcomes.csv, casts.</summary>
internal static class OtherTables
{
    public const string MagnetometerFile = "magnetometer.csv", OutcomesFile = "outcomes.csv";

    public static IReadOnlyList<MagnetometerReading> ReadMagnetometer(string folder, List<Caution> cautions)
    {
        using var csv = new CsvReader(Path.Combine(folder, MagnetometerFile), MagnetometerFile, ["time_utc", "easting", "northing", "depth_m", "total_field_nt"], [], cautions);
        var readings = new List<MagnetometerReading>();
        Instant last = Instant.MinValue;
        while (csv.Read())
        {
            Instant time = csv.Time(0);
            if (time < last)
                throw csv.Wrong(0, $"the time goes backwards, from {UtcTime.Format(last)} to {UtcTime.Format(time)}", "sort the rows by time");
            last = time;
            double field = csv.Number(4);
            if (field is < 10_000 or > 120_000) throw csv.Wrong(4, $"{field} nT is no total field of the Earth", "write the total field in nanotesla, not its anomaly");
            readings.Add(new(time, new GridPoint(csv.Number(1), csv.Number(2), csv.Number(3)), field));
        }
        return readings;
    }

    public static IReadOnlyList<Outcome> ReadOutcomes(string folder, List<Caution> cautions)
    {
        using var csv = new CsvReader(Path.Combine(folder, OutcomesFile), OutcomesFile, ["easting", "northing", "radius_m", "reached_depth_m", "outcome", "material", "note"], [], cautions);
        var outcomes = new List<Outcome>();
        while (csv.Read())
        {
            OutcomeKind kind = csv.Text(4) switch
            {
                "object" => OutcomeKind.Object,
                "nothing" => OutcomeKind.Nothing,
                "natural" => OutcomeKind.Natural,
                var other => throw csv.Wrong(4, $"“{other}” is no outcome", "write object, nothing or natural"),
            };
            double radius = csv.Number(2), reached = csv.Number(3);
            if (radius is <= 0 or > 1000) throw csv.Wrong(2, $"{radius} m is no radius that someone searched", "write how far around was looked, in metres");
            if (reached is < 0 or > 100) throw csv.Wrong(3, $"{reached} m is no depth that someone reached", "write the burial depth reached below the seabed, in metres, positive downwards");
            outcomes.Add(new(csv.Number(0), csv.Number(1), radius, reached, kind, csv.Text(5), csv.Text(6)));
        }
        return outcomes;
    }

    /// <summary>A cast's rows by rising depth.</summary>
    public static IReadOnlyList<(double Depth, double Temperature, double Salinity)> ReadCast(string folder, string file, List<Caution> cautions)
    {
        using var csv = new CsvReader(Path.Combine(folder, file), file, ["depth_m", "temperature_c", "salinity"], [], cautions);
        var rows = new List<(double Depth, double Temperature, double Salinity)>();
        while (csv.Read())
        {
            double depth = csv.Number(0), temperature = csv.Number(1), salinity = csv.Number(2);
            if (depth is < -5 or > 12000) throw csv.Wrong(0, $"{depth} m is no depth in the sea", "write metres below the surface, positive downwards");
            if (temperature is < -3 or > 45) throw csv.Wrong(1, $"{temperature} °C is no temperature of sea water", "write degrees Celsius");
            if (salinity is < 0 or > 60) throw csv.Wrong(2, $"{salinity} is no salinity of sea water", "write practical salinity");
            rows.Add((depth, temperature, salinity));
        }
        if (rows.Count == 0)
            throw new SurveyException(file, null, "the cast has no rows", "add rows, or give water.sound_speed_m_s in survey.json");
        rows.Sort((a, b) => a.Depth.CompareTo(b.Depth));
        return rows;
    }
}
