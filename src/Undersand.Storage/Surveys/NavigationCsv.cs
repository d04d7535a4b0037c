using NodaTime;
using Undersand.Positioning;

namespace Undersand.Storage.Surveys;

/// <summary>navigation.csv: the vehicle's reference point and attitude.</summary>
internal static class NavigationCsv
{
    public const string FileName = "navigation.csv";
    private static readonly string[] Columns = ["time_utc", "easting", "northing", "depth_m", "heading_deg", "roll_deg", "pitch_deg"];

    public static NavigationTrack Read(string folder, List<Caution> cautions)
    {
        using var csv = new CsvReader(Path.Combine(folder, FileName), FileName, Columns, [], cautions);
        int rows = 0;
        IEnumerable<NavigationFix> Rows()
        {
            Instant last = Instant.MinValue;
            while (csv.Read())
            {
                Instant time = csv.Time(0);
                if (time <= last)
                    throw csv.Wrong(0, time == last ? $"the time {UtcTime.Format(time)} stands there twice" : $"the time goes backwards, from {UtcTime.Format(last)} to {UtcTime.Format(time)}", "sort the rows by time and keep one row for each time");
                last = time;
                rows++;
                yield return new NavigationFix(time, Pose(csv));
            }
            if (rows < 2)
                throw new SurveyException(FileName, null, $"the file has {rows} rows, too few to interpolate between", "give rows before the first and after the last ping");
        }
        return new NavigationTrack(Rows());
    }

    private static VehiclePose Pose(CsvReader csv)
    {
        double heading = Within(csv, 4, -360, 720), roll = Within(csv, 5, -180, 180), pitch = Within(csv, 6, -90, 90);
        return new(new GridPoint(csv.Number(1), csv.Number(2), csv.Number(3)), new Attitude(Angle.FromDegrees(heading), Angle.FromDegrees(roll), Angle.FromDegrees(pitch)));
    }

    private static double Within(CsvReader csv, int column, double least, double most)
    {
        double value = csv.Number(column);
        return value >= least && value <= most ? value : throw csv.Wrong(column, $"{value} is outside {least} to {most} degrees", "write the angle in degrees");
    }
}
