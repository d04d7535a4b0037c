using System.Globalization;

namespace Undersand.Workbench.Work;

/// <summary>A straight line for the sonar's source to follow.</summary>
/// <param name="Start">Where it begins.</param>
/// <param name="End">Where it ends.</param>
internal readonly record struct LineToSail(GridPoint Start, GridPoint End)
{
    /// <summary>Metres on the grid.</summary>
    public double Length => Start.HorizontalDistanceTo(End);

    /// <summary>Where it leads, in whole degrees clockwise from grid north as a course is said: “087”, never “360”.</summary>
    public string Heading => ((int)Math.Round(new Angle(Math.Atan2(End.Easting - Start.Easting, End.Northing - Start.Northing)).Degrees + 360) % 360).ToString("000", CultureInfo.InvariantCulture);
}
