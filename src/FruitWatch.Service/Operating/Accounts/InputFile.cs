using System.Text;

namespace FruitWatch.Service.Operating.Accounts;

/// <summary>Reads a file that a user named, or says why not.</summary>
internal static class InputFile
{
    private static readonly UTF8Encoding s_strict = new(encoderShouldEmitUTF8Identifier: false, throwOnInvalidBytes: true);

    public static string ReadAllText(string path)
    {
        try
        {
            return Read(path, file => File.ReadAllText(file, s_strict));
        }
        catch (DecoderFallbackException)
        {
            throw new VerbException($"{path}: not UTF-8 text.");
        }
    }

    public static byte[] ReadAllBytes(string path) => Read(path, File.ReadAllBytes);

    private static T Read<T>(string path, Func<string, T> read)
    {
        try
        {
            return read(path);
        }
        catch (Exception error) when (error is IOException or UnauthorizedAccessException or NotSupportedException or ArgumentException and not DecoderFallbackException)
        {
            throw new VerbException($"{path}: cannot be read: {error.Message}");
        }
    }
}
