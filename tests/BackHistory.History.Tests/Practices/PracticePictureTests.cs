using System.Buffers.Binary;
using System.IO.Compression;
using BackHistory.History.Practices;

namespace BackHistory.History.Tests.Practices;

/// <summary>The picture that a practice sends in is hostile until it is read to its last byte.</summary>
public sealed class PracticePictureTests
{
    [Fact]
    public void A_png_is_kept_without_what_else_was_in_the_file()
    {
        var sent = Png(40, 10, [("tEXt", "Author\0Robin Field, 12 Ford Lane"u8.ToArray())], after: "<script>"u8.ToArray());

        var (picture, refused) = PracticePicture.From(sent);

        Assert.Null(refused);
        Assert.Equal(("image/png", 40, 10), (picture!.MediaType, picture.Width, picture.Height));
        Assert.Equal(Png(40, 10, [], []), picture.Bytes);
    }

    [Fact]
    public void A_jpeg_is_kept_without_where_it_was_taken_and_by_whom()
    {
        var sent = Jpeg(3, (0xE1, "Exif\0\0 52.52 north"u8.ToArray()), (0xFE, "Robin Field"u8.ToArray()));

        var (picture, refused) = PracticePicture.From(sent);

        Assert.Null(refused);
        Assert.Equal(("image/jpeg", 48, 32), (picture!.MediaType, picture.Width, picture.Height));
        Assert.Equal(Jpeg(3), picture.Bytes);
        Assert.Equal(picture.Hash, PracticePicture.From(picture.Bytes).Picture!.Hash);
    }

    [Fact]
    public void A_png_that_unpacks_to_more_than_it_says_is_refused()
    {
        // A few kilobytes that unpack to thirty megabytes.
        var sent = Png(40, 10, [], [], Packed(new byte[30 << 20]));

        Assert.True(sent.Length < PracticePicture.MostBytes);
        Assert.Equal("damaged-picture", PracticePicture.From(sent).Refused!.Code);
    }

    [Theory]
    [InlineData("half a file")]
    [InlineData("a part's check")]
    [InlineData("fewer lines")]
    [InlineData("no such kind")]
    [InlineData("a jpeg without a scan")]
    [InlineData("a jpeg cut off")]
    public void What_is_damaged_is_refused(string how)
    {
        var png = Png(40, 10, [], []);
        var bytes = how switch
        {
            "half a file" => png[..(png.Length / 2)],
            "a part's check" => [.. png[..30], (byte)(png[30] ^ 1), .. png[31..]],
            "fewer lines" => Png(40, 10, [], [], Packed(new byte[9 * (1 + (40 * 3))])),
            "no such kind" => Png(40, 10, [], [], kind: 5),
            "a jpeg without a scan" => [.. Jpeg(3)[..^9], 0xFF, 0xD9],
            _ => Jpeg(3)[..^2],
        };

        Assert.Equal("damaged-picture", PracticePicture.From(bytes).Refused!.Code);
    }

    [Fact]
    public void What_mail_programs_do_not_show_is_refused_with_what_to_do()
    {
        foreach (var bytes in new[] { Png(40, 10, [], [], interlaced: 1), Png(40, 10, [], [], bits: 16), Jpeg(4) })
        {
            var refused = PracticePicture.From(bytes).Refused!;
            Assert.Equal(("unusual-picture", "picture"), (refused.Code, refused.Place));
            Assert.Contains("save it for the web", refused.Message, StringComparison.Ordinal);
        }
    }

    [Fact]
    public void What_is_too_large_or_no_picture_is_refused()
    {
        Assert.Equal("picture-too-large", PracticePicture.From(Png(2001, 10, [], [])).Refused!.Code);
        Assert.Equal("picture-too-large", PracticePicture.From(new byte[PracticePicture.MostBytes + 1]).Refused!.Code);
        Assert.Equal("unknown-picture", PracticePicture.From("<svg onload='steal()'/>"u8.ToArray()).Refused!.Code);
        Assert.Equal("unknown-picture", PracticePicture.From("%PDF-1.7"u8.ToArray()).Refused!.Code);
    }

    [Fact]
    public void A_picture_of_an_archive_is_what_it_says_of_itself_or_refused()
    {
        var picture = PracticePicture.From(Jpeg(3)).Picture!;

        Assert.Null(picture.Problem());
        Assert.NotNull((picture with { Width = 49 }).Problem());
        Assert.NotNull((picture with { Bytes = Png(40, 10, [], []) }).Problem());
        Assert.NotNull((picture with { Bytes = [.. picture.Bytes, 0] }).Problem());
    }

    /// <summary>All black, 8 bits a colour.</summary>
    private static byte[] Png(
        int width,
        int height,
        (string Name, byte[] Body)[] more,
        byte[] after,
        byte[]? packed = null,
        byte kind = 2,
        byte bits = 8,
        byte interlaced = 0
    )
    {
        var header = new byte[13];
        BinaryPrimitives.WriteInt32BigEndian(header, width);
        BinaryPrimitives.WriteInt32BigEndian(header.AsSpan(4), height);
        (header[8], header[9], header[12]) = (bits, kind, interlaced);
        return
        [
            0x89,
            .. "PNG\r\n"u8,
            0x1A,
            (byte)'\n',
            .. Part("IHDR", header),
            .. more.SelectMany(m => Part(m.Name, m.Body)),
            .. Part("IDAT", packed ?? Packed(new byte[height * (1 + (width * 3))])),
            .. Part("IEND", []),
            .. after,
        ];
    }

    private static byte[] Part(string name, byte[] body)
    {
        byte[] named = [.. System.Text.Encoding.ASCII.GetBytes(name), .. body];
        var part = new byte[named.Length + 8];
        BinaryPrimitives.WriteInt32BigEndian(part, body.Length);
        named.CopyTo(part, 4);
        BinaryPrimitives.WriteUInt32BigEndian(part.AsSpan(part.Length - 4), Check(named));
        return part;
    }

    /// <summary>Bit by bit, as PNG's annex D words it.</summary>
    private static uint Check(byte[] bytes)
    {
        var check = uint.MaxValue;
        foreach (var b in bytes)
        {
            check ^= b;
            for (var i = 0; i < 8; i++)
                check = (check >> 1) ^ ((check & 1) * 0xEDB88320);
        }

        return ~check;
    }

    private static byte[] Packed(byte[] lines)
    {
        var packed = new MemoryStream();
        using (var to = new ZLibStream(packed, CompressionLevel.SmallestSize, leaveOpen: true))
            to.Write(lines);
        return packed.ToArray();
    }

    /// <summary>As far as its parts; what is packed in its scan stands for nothing.</summary>
    private static byte[] Jpeg(byte colours, params (byte Marker, byte[] Body)[] more) =>
        [
            0xFF,
            0xD8,
            .. Segment(0xE0, [.. "JFIF\0"u8, 1, 2, 0, 0, 1, 0, 1, 0, 0]),
            .. more.SelectMany(m => Segment(m.Marker, m.Body)),
            .. Segment(0xDB, new byte[65]),
            .. Segment(0xC0, [8, 0, 32, 0, 48, colours, .. new byte[colours * 3]]),
            .. Segment(0xC4, new byte[20]),
            .. Segment(0xDA, [1, 1, 0, 0, 63, 0]),
            0x12,
            0xFF,
            0x00,
            0xFF,
            0xD0,
            0x34,
            0xFF,
            0xD9,
        ];

    private static byte[] Segment(byte marker, byte[] body) =>
        [0xFF, marker, (byte)((body.Length + 2) >> 8), (byte)(body.Length + 2), .. body];
}
