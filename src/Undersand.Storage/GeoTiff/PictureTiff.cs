using BitMiracle.LibTiff.Classic;

namespace Undersand.Storage.GeoTiff;

/// <summary>Anybody's GeoTIFF picture (grey, colour or palette, up to 8 bits a sample), read block by block. Members may be called from several threads.</summary>
/// <remarks>
/// Directories are read by ourselves and believed only as far as they fit into the file and into <see cref="MostBlockPixels"/>; what lies in a block is decoded by LibTiff.NET
/// (docs/decisions/0068). A block that can't be decoded is empty.
/// </remarks>
public sealed class PictureTiff : IDisposable
{
    /// <summary>Pixels of the largest tile or strip that is read.</summary>
    public const int MostBlockPixels = 1 << 24;

    private const int MostPixelsAcross = 1 << 20;
    // None, CCITT, LZW, JPEG, DEFLATE under both its numbers, PackBits.
    private static readonly long[] _packed = [1, 2, 3, 4, 5, 7, 8, 32946, 32773];
    private readonly Lock _lock = new();
    private readonly Tiff _file;
    private readonly byte? _nothing;

    static PictureTiff() => Tiff.SetErrorHandler(new Silent());

    private PictureTiff(Tiff file, IReadOnlyList<PictureLevel> levels, (double West, double North, double Across, double Down) frame, byte? nothing)
    {
        (_file, Levels, _nothing) = (file, levels, nothing);
        (West, North, PixelWidth, PixelHeight) = frame;
    }

    /// <summary>The full resolution, then what the file has of coarser ones.</summary>
    public IReadOnlyList<PictureLevel> Levels { get; }

    /// <summary>Easting of the left edge.</summary>
    public double West { get; }

    /// <summary>Northing of the upper edge.</summary>
    public double North { get; }

    /// <summary>Metres from column to column.</summary>
    public double PixelWidth { get; }

    /// <summary>Metres from row to row, downwards.</summary>
    public double PixelHeight { get; }

    /// <summary>Easting of the right edge.</summary>
    public double East => West + Levels[0].Width * PixelWidth;

    /// <summary>Northing of the lower edge.</summary>
    public double South => North - Levels[0].Height * PixelHeight;

    /// <summary>Opens a picture that must lie in the given reference system.</summary>
    /// <exception cref="SurveyException">It can't be used; the sentence says the mend.</exception>
    public static PictureTiff Open(string path, int epsg)
    {
        try
        {
            using FileStream file = File.OpenRead(path);
            IReadOnlyList<TiffTags> pictures = TiffTags.Read(file);
            if (pictures.Count == 0)
                throw new InvalidDataException("it holds no picture");
            RequireSystem(path, pictures[0], epsg);
            var frame = GeoTiffFrame.Of(pictures[0]) ?? throw new SurveyException(path, null, "it doesn't say where it lies, or lies askew", $"give it its place with “gdalwarp -t_srs EPSG:{epsg} {Path.GetFileName(path)} straight.tif”");
            PictureLevel full = Level(path, file, pictures[0], 0);
            PictureLevel[] levels = [full, .. pictures.Select((p, i) => (p, i)).Skip(1).Where(p => (p.p.Whole(254, 0) & 5) == 1).Select(p => Level(path, file, p.p, p.i)).OrderByDescending(l => l.Width)];
            Tiff decoder = Tiff.Open(path, "r") ?? throw new InvalidDataException("it can't be decoded");
            return new PictureTiff(decoder, levels, frame, byte.TryParse(pictures[0].Text(42113), out byte nothing) ? nothing : null);
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException or InvalidDataException)
        {
            throw new SurveyException(path, null, $"this GeoTIFF can't be read ({e.Message.TrimEnd('.')})", "copy it again from where it came, or leave it out", e);
        }
    }

    /// <summary>A block's pixels row by row from the top, each alpha, blue, green, red from the highest byte, colours times alpha; empty where it can't be decoded.</summary>
    public int[] ReadBlock(int level, int x, int y)
    {
        PictureLevel l = Levels[level];
        int width = l.BlockWidth, height = l.BlockHeight, rows = l.IsTiled ? height : Math.Min(height, l.Height - y * height);
        var pixels = new int[width * height];
        lock (_lock)
            try
            {
                var upsideDown = new int[width * height];
                bool read = _file.SetDirectory((short)l.Directory) && (l.Samples == 2 ? ReadGreyAlpha(l, x, y, pixels)
                    : l.IsTiled ? _file.ReadRGBATile(x * width, y * height, upsideDown) : _file.ReadRGBAStrip(y * height, upsideDown));
                for (int row = 0; read && l.Samples != 2 && row < rows; row++)
                    upsideDown.AsSpan((rows - 1 - row) * width, width).CopyTo(pixels.AsSpan(row * width));
            }
#pragma warning disable CA1031 // The decoder meets bytes of strangers and fails in any way it likes: the block stays empty.
            catch (Exception)
#pragma warning restore CA1031
            {
                Array.Clear(pixels);
            }
        if (_nothing is { } nothing)
            for (int i = 0; i < pixels.Length; i++)
                if ((pixels[i] & 0xffffff) == nothing * 0x010101)
                    pixels[i] = 0;
        return pixels;
    }

    /// <inheritdoc/>
    public void Dispose() => _file.Dispose();

    private bool ReadGreyAlpha(PictureLevel l, int x, int y, int[] pixels)
    {
        byte[] bytes = new byte[2 * pixels.Length];
        int block = y * l.BlocksAcross + x, read = l.IsTiled ? _file.ReadEncodedTile(block, bytes, 0, bytes.Length) : _file.ReadEncodedStrip(block, bytes, 0, bytes.Length);
        for (int i = 0; i < read / 2; i++)
        {
            int alpha = bytes[2 * i + 1], grey = bytes[2 * i] * alpha / 255;
            pixels[i] = alpha << 24 | grey * 0x010101;
        }
        return read > 0;
    }

    private static void RequireSystem(string path, TiffTags tags, int epsg)
    {
        string name = Path.GetFileName(path);
        int? found = GeoTiffFrame.Epsg(tags);
        if (found is null)
            throw new SurveyException(path, null, "it doesn't say its reference system by an EPSG code", $"if it is in EPSG:{epsg}, say so with “gdal_edit.py -a_srs EPSG:{epsg} {name}”; else warp it with “gdalwarp -t_srs EPSG:{epsg} {name} base.tif”");
        if (found != epsg)
            throw new SurveyException(path, null, $"it is in EPSG:{found}, and the survey is in EPSG:{epsg}", $"warp it with “gdalwarp -t_srs EPSG:{epsg} {name} base.tif”");
    }

    private static PictureLevel Level(string path, FileStream file, TiffTags tags, int directory)
    {
        long width = tags.Whole(256, 0), height = tags.Whole(257, 0), samples = tags.Whole(277, 1);
        bool tiled = tags.Has(322);
        long across = tiled ? tags.Whole(322, 0) : width, down = tiled ? tags.Whole(323, 0) : Math.Min(tags.Whole(278, height), height);
        if (width is <= 0 or > MostPixelsAcross || height is <= 0 or > MostPixelsAcross || across <= 0 || down <= 0)
            throw new InvalidDataException($"{width} × {height} pixels in blocks of {across} × {down} are no picture");
        string translate = $"write it anew with “gdal_translate -co TILED=YES -co COMPRESS=DEFLATE {Path.GetFileName(path)} base.tif”";
        if (!_packed.Contains(tags.Whole(259, 1)))
            throw new SurveyException(path, null, $"it is packed in a way that isn't read here (TIFF compression {tags.Whole(259, 1)})", translate);
        if (across * down > MostBlockPixels)
            throw new SurveyException(path, null, $"its blocks of {across} × {down} pixels are too large", translate);
        if (samples is < 1 or > 4 || tags.Wholes(258).Any(b => b is not (1 or 2 or 4 or 8)) || (samples == 2 && (tags.Wholes(258).Any(b => b != 8) || tags.Whole(284, 1) != 1)) || tags.Whole(339, 1) != 1)
            throw new SurveyException(path, null, $"it holds measured values, not a picture ({samples} bands of {string.Join(", ", tags.Wholes(258).Distinct())} bits)", $"make a picture of it with “gdal_translate -ot Byte -scale {Path.GetFileName(path)} base.tif”, or hill shades with “gdaldem hillshade”");
        var level = new PictureLevel(directory, (int)width, (int)height, tiled, (int)across, (int)down, (int)samples);
        long[] offsets = tags.Wholes(tiled ? 324 : 273), counts = tags.Wholes(tiled ? 325 : 279);
        long blocks = (long)level.BlocksAcross * level.BlocksDown * (tags.Whole(284, 1) == 2 ? samples : 1);
        if (offsets.Length < blocks || counts.Length < blocks || offsets.Zip(counts).Any(b => b.First < 0 || b.Second < 0 || b.First > file.Length - b.Second))
            throw new InvalidDataException("it is cut off");
        return level;
    }

    // What can't be read is said by us, in a sentence; the library would write to the console.
    private sealed class Silent : TiffErrorHandler
    {
        public override void ErrorHandler(Tiff tif, string method, string format, params object[] args)
        {
        }

        public override void WarningHandler(Tiff tif, string method, string format, params object[] args)
        {
        }
    }
}

/// <summary>One resolution of a picture.</summary>
/// <param name="Directory">Which of the file's directories.</param>
/// <param name="Width">Columns.</param>
/// <param name="Height">Rows.</param>
/// <param name="IsTiled">Tiles, else strips.</param>
/// <param name="BlockWidth">Columns of a tile or strip.</param>
/// <param name="BlockHeight">Rows of a tile or strip.</param>
/// <param name="Samples">Bands.</param>
public sealed record PictureLevel(int Directory, int Width, int Height, bool IsTiled, int BlockWidth, int BlockHeight, int Samples)
{
    /// <summary>Blocks in a row.</summary>
    public int BlocksAcross => (Width + BlockWidth - 1) / BlockWidth;

    /// <summary>Rows of blocks.</summary>
    public int BlocksDown => (Height + BlockHeight - 1) / BlockHeight;
}
