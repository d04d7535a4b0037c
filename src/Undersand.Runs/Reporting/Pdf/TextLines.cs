namespace Undersand.Runs.Reporting;

/// <summary>Breaks text into lines.</summary>
internal static class TextLines
{
    /// <summary>Lines no wider than the width; a word longer than that is broken where it must be.</summary>
    /// <param name="text">The text; its blanks are where it may break.</param>
    /// <param name="points">Size.</param>
    /// <param name="bold">Weight.</param>
    /// <param name="width">Millimetres.</param>
    /// <param name="first">Millimetres taken from the first line.</param>
    public static List<string> Break(string text, double points, bool bold, double width, double first = 0)
    {
        Typeface face = Typeface.Of(bold);
        var lines = new List<string>();
        string line = "";
        foreach (string word in face.Drawable(text).Split(' '))
        {
            double room = lines.Count == 0 ? width - first : width;
            string longer = line.Length == 0 ? word : line + " " + word;
            if (face.Width(longer, points) <= room)
            {
                line = longer;
                continue;
            }
            if (line.Length > 0 || (lines.Count == 0 && first > 0))
                lines.Add(line);
            line = Chop(word, face, points, width, lines);
        }
        lines.Add(line);
        return lines;
    }

    private static string Chop(string word, Typeface face, double points, double width, List<string> lines)
    {
        while (word.Length > 1 && face.Width(word, points) > width)
        {
            int n = word.Length - 1;
            while (n > 1 && face.Width(word[..n], points) > width)
                n--;
            lines.Add(word[..n]);
            word = word[n..];
        }
        return word;
    }
}
