namespace Undersand.Storage;
internal static class Marker;
