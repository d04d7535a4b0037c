namespace Undersand.Storage.Surveys;

/// <summary>The smaller tables of a survey: magnetometer.csv, outcomes.csv, casts.</summary>
internal static class OtherTables
{
    public const string MagnetometerFile = "magnetometer.csv", OutcomesFile = "outcomes.csv";

    public static IReadOnlyList<MagnetometerReading> ReadMagnetometer(string folder, List<Caution> cautions)
    {
        using var csv = new CsvReader(Path.Combine(folder, MagnetometerFile), MagnetometerFile, ["time_utc", "easting", "northing", "depth_m", "total_field_nt"], [], cautions);
        var readings = new List<MagnetometerReading>();
        while (csv.Read())
            readings.Add(new(csv.Time(0), new GridPoint(csv.Number(1), csv.Number(2), csv.Number(3)), csv.Number(4)));
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
            outcomes.Add(new(csv.Number(0), csv.Number(1), csv.Number(2), csv.Number(3), kind, csv.Text(5), csv.Text(6)));
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
