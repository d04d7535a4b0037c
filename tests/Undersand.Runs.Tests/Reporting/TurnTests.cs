using Undersand.Runs.Reporting;
using Undersand.Storage;

namespace Undersand.Runs.Tests.Reporting;

/// <summary>Photographs as the camera says they are to be held.</summary>
public class TurnTests
{
    // Exif 2.32, 4.6.5: where the picture's first row and first column come to lie.
    [Theory]
    [InlineData(1, "top", "left")]
    [InlineData(2, "top", "right")]
    [InlineData(3, "bottom", "right")]
    [InlineData(4, "bottom", "left")]
    [InlineData(5, "left", "top")]
    [InlineData(6, "right", "top")]
    [InlineData(7, "right", "bottom")]
    [InlineData(8, "left", "bottom")]
    public void First_row_and_first_column_lie_where_the_standard_says(int number, string row, string column)
    {
        var turn = new Turn(number);
        var box = new Box(10, 20, 40, 30);
        (double wide, double high) = turn.IsQuarter ? (box.Height, box.Width) : (box.Width, box.Height);
        var (a, b, c, d, e, f) = turn.Into(box);
        string Side(double u, double v)
        {
            double x = a * u + c * v + e, y = b * u + d * v + f;
            return x == box.Left ? "left" : x == box.Right ? "right" : y == box.Top ? "top" : y == box.Bottom ? "bottom" : $"({x}, {y})";
        }
        Assert.Equal((row, column), (Side(wide / 2, 0), Side(0, high / 2)));
    }

    [Theory]
    [InlineData(true)]
    [InlineData(false)]
    public void A_turn_is_read_and_taken_out_in_either_byte_order(bool little)
    {
        byte[] exif = little ? [.. "Exif\0\0II*\0"u8, 8, 0, 0, 0, 1, 0, 0x12, 0x01, 3, 0, 1, 0, 0, 0, 6, 0, 0, 0, 0, 0, 0, 0] : [.. "Exif\0\0MM\0*"u8, 0, 0, 0, 8, 0, 1, 0x01, 0x12, 0, 3, 0, 0, 0, 1, 0, 6, 0, 0, 0, 0, 0, 0];
        byte[] jpeg = [0xff, 0xd8, 0xff, 0xe1, 0, (byte)(exif.Length + 2), .. exif, 0xff, 0xdb, 0, 2, 0xff, 0xd9];
        (int turn, byte[] bytes) = PictureFile.Unturned(jpeg);
        Assert.Equal(6, turn);
        Assert.Equal(jpeg.Length, bytes.Length);
        Assert.Equal(1, jpeg.Zip(bytes).Count(p => p.First != p.Second));
        Assert.Equal(1, PictureFile.Unturned(bytes).Turn);
        Assert.Equal(6, PictureFile.Unturned(PictureFile.WithoutOrigin(jpeg)).Turn);
        Assert.Equal(1, PictureFile.Unturned(jpeg[..20]).Turn);
    }

    [Fact]
    public void A_picture_turned_by_a_quarter_stands_upright_in_its_figure()
    {
        Drawing lying = PhotographFigure.Draw(new([1], "image/jpeg", 1200, 900)), standing = PhotographFigure.Draw(new([1], "image/jpeg", 1200, 900, new(6)));
        Assert.Equal(0.75, Shape(lying), 6);
        Assert.Equal(4 / 3.0, Shape(standing), 6);
        Assert.Contains("<image transform=\"matrix(0 1 -1 0 ", standing.ToSvg("photograph"), StringComparison.Ordinal);

        static double Shape(Drawing d) => d.Marks.OfType<ImageMark>().Select(m => m.Box.Height / m.Box.Width).Single();
    }
}
