using Undersand.Runs.Reporting;
using Undersand.Storage.GeoPackage;
using Undersand.Storage.GeoTiff;

namespace Undersand.Workbench.Pictures;

/// <summary>One layer that lies under the survey: a GeoTIFF, a GeoPackage's tiles, or the outlines of its features.</summary>
/// <param name="Name">The file's name, and the layer's where the file has several.</param>
internal abstract record BaseMap(string Name)
{
    /// <summary>A GeoTIFF, cut into pictures on the survey's own grid.</summary>
    public sealed record Tiff(string Name, PictureTiff File) : BaseMap(Name)
    {
        // What is kept of decoded blocks, pixels of four bytes.
        private const int KeptPixels = 24_000_000, MostSamples = 4;
        private readonly KeptPictures<(int Level, int X, int Y), int[]> _blocks = new(Math.Clamp(KeptPixels / (File.Levels[0].BlockWidth * File.Levels[0].BlockHeight), 1, 4096));
        private readonly KeptPictures<(double, double, double), byte[]?> _pictures = new(256);

        /// <summary>A picture by its upper left corner and the metres of a pixel; null where the file doesn't reach.</summary>
        public byte[]? Picture(double west, double north, double metres) =>
            west >= File.East || west + MapTiles.Size * metres <= File.West || north <= File.South || north - MapTiles.Size * metres >= File.North ? null : _pictures.Get((west, north, metres), _ => Draw(west, north, metres));

        // The mean of up to 4 × 4 of the file's pixels where several lie in one of ours; zoomed in, a pixel stays a square.
        private byte[] Draw(double west, double north, double metres)
        {
            int level = File.Levels.Index().Last(l => l.Index == 0 || Across(l.Item) <= metres * 1.01).Index;
            PictureLevel from = File.Levels[level];
            double across = Across(from), down = (File.North - File.South) / from.Height;
            int samples = Math.Clamp((int)Math.Round(metres / across), 1, MostSamples);
            var colours = new byte[4 * MapTiles.Size * MapTiles.Size];
            for (int i = 0; i < MapTiles.Size * MapTiles.Size; i++)
            {
                (int r, int g, int b, int a) sum = default;
                for (int k = 0; k < samples * samples; k++)
                {
                    double x = (west + (i % MapTiles.Size + (k % samples + 0.5) / samples) * metres - File.West) / across;
                    double y = (File.North - north + (i / MapTiles.Size + (k / samples + 0.5) / samples) * metres) / down;
                    if (x < 0 || y < 0 || x >= from.Width || y >= from.Height)
                        continue;
                    (int column, int row) = ((int)x, (int)y);
                    int pixel = _blocks.Get((level, column / from.BlockWidth, row / from.BlockHeight), p => File.ReadBlock(p.Level, p.X, p.Y))[row % from.BlockHeight * from.BlockWidth + column % from.BlockWidth];
                    sum = (sum.r + (pixel & 255), sum.g + (pixel >> 8 & 255), sum.b + (pixel >> 16 & 255), sum.a + (pixel >> 24 & 255));
                }
                // Colours come times alpha; a PNG has them plain.
                if (sum.a > 0)
                    (colours[4 * i], colours[4 * i + 1], colours[4 * i + 2], colours[4 * i + 3]) = (Plain(sum.r, sum.a), Plain(sum.g, sum.a), Plain(sum.b, sum.a), (byte)(sum.a / (samples * samples)));
            }
            return Png.EncodeColours(MapTiles.Size, MapTiles.Size, colours);
        }

        private double Across(PictureLevel level) => (File.East - File.West) / level.Width;

        private static byte Plain(int colour, int alpha) => (byte)Math.Min(255, (colour * 255 + alpha / 2) / alpha);
    }

    /// <summary>Tiles of a GeoPackage, passed on as they are.</summary>
    public sealed record Tiles(string Name, BasePackage File, TileTable Table) : BaseMap(Name);

    /// <summary>Features of a GeoPackage, drawn by the page.</summary>
    public sealed record Outlines(string Name, FeatureTable Table) : BaseMap(Name);
}
