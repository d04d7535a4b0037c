namespace Undersand.Storage.SegY;

/// <summary>The text headers, in EBCDIC or ASCII.</summary>
internal static class SegyText
{
    /// <summary>EBCDIC (code page 037) to ASCII for the characters that appear in text headers; others become a space.</summary>
    private static readonly char[] FromEbcdic = MakeTable();

    /// <summary>The text, one character a byte.</summary>
    public static string Decode(ReadOnlySpan<byte> block)
    {
        bool ebcdic = block.Count((byte)0x40) > block.Count((byte)0x20);
        char[] text = new char[block.Length];
        for (int i = 0; i < block.Length; i++)
            text[i] = ebcdic ? FromEbcdic[block[i]] : block[i] is >= 32 and < 127 ? (char)block[i] : ' ';
        return new string(text);
    }

    private static char[] MakeTable()
    {
        char[] table = new char[256];
        Array.Fill(table, ' ');
        void Put(int from, string characters)
        {
            for (int i = 0; i < characters.Length; i++)
                table[from + i] = characters[i];
        }
        Put(0x4A, "¢.<(+|&"); Put(0x5A, "!$*);¬-/"); Put(0x6A, "¦,%_>?"); Put(0x79, "`:#@'=\"");
        Put(0x81, "abcdefghi"); Put(0x91, "jklmnopqr"); Put(0xA1, "~stuvwxyz");
        Put(0xC0, "{ABCDEFGHI"); Put(0xD0, "}JKLMNOPQR"); Put(0xE2, "STUVWXYZ"); Put(0xF0, "0123456789");
        return table;
    }
}
