namespace FruitWatch.Service.Text;

internal sealed partial class Spanish
{
    public override string BedEdit => "Cambiar esta cama";
}
