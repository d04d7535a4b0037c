namespace Undersand.Runs;
internal static class Marker;
