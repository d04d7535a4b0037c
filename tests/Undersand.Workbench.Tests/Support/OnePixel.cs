namespace Undersand.Workbench.Tests.Support;

/// <summary>The smallest picture: a PNG of one pixel.</summary>
internal static class OnePixel
{
    public static readonly byte[] Png = Convert.FromBase64String("iVBORw0KGgoAAAANSUhEUgAAAAEAAAABCAYAAAAfFcSJAAAADUlEQVR42mNk+M9QDwADhgGAWjR9awAAAABJRU5ErkJggg==");
}
