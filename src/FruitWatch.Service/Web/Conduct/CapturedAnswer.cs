using Microsoft.AspNetCore.Http.Features;

namespace FruitWatch.Service.Web.Conduct;

/// <summary>Holds back the body of an answer until it is known what becomes of it.</summary>
internal sealed class CapturedAnswer : IDisposable
{
    private readonly HttpContext context;
    private readonly IHttpResponseBodyFeature outside;
    private readonly MemoryStream held = new();
    private readonly StreamResponseBodyFeature inside;

    private CapturedAnswer(HttpContext context)
    {
        this.context = context;
        outside = context.Features.GetRequiredFeature<IHttpResponseBodyFeature>();
        inside = new StreamResponseBodyFeature(held);
        context.Features.Set<IHttpResponseBodyFeature>(inside);
    }

    public static CapturedAnswer Begin(HttpContext context) => new(context);

    /// <summary>The whole body. From now on the answer is written as usual.</summary>
    public async Task<ReadOnlyMemory<byte>> EndAsync()
    {
        await inside.CompleteAsync();
        context.Features.Set(outside);
        return held.GetBuffer().AsMemory(0, (int)held.Length);
    }

    public void Dispose()
    {
        context.Features.Set(outside);
        held.Dispose();
    }
}
