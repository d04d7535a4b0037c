using System.Globalization;

namespace Undersand.Workbench;

/// <summary>Latitude and longitude in degrees and minutes, as seafarers write them: “51° 59.1234′ N”. The last decimal is 0.2 m.</summary>
internal static class GeoWords
{
    public static string Latitude(GeoPoint place) => Minutes(place.Latitude, "N", "S");

    public static string Longitude(GeoPoint place) => Minutes(place.Longitude, "E", "W");

    private static string Minutes(double degrees, string plus, string minus)
    {
        double all = Math.Round(Math.Abs(degrees) * 60, 4);
        return string.Create(CultureInfo.InvariantCulture, $"{(int)(all / 60)}° {all % 60:00.0000}′ {(degrees < 0 ? minus : plus)}");
    }
}
