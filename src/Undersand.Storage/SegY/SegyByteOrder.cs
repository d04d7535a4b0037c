namespace Undersand.Storage.SegY;

/// <summary>The order of bytes in a SEG-Y file; revision 2.0 writes a constant at bytes 3297–3300 that tells them apart.</summary>
public enum SegyByteOrder
{
    /// <summary>Most significant byte first: the only order before revision 2.</summary>
    BigEndian,
    /// <summary>Least significant byte first.</summary>
    LittleEndian,
    /// <summary>Big-endian with the two bytes of each 16-bit word swapped.</summary>
    PairSwapped,
}
